#include "report/report_text.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "report/closure_words.hpp"
#include "report/wording.hpp"
#include "support/catch.hpp"
#include "unit/report/drawn_plans.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

const PageOptions kPage{"planter", "planter.json", false};

std::vector<std::string> lines_of(const std::string& page) {
    std::vector<std::string> lines;
    std::size_t start = 0;
    for (std::size_t end = page.find('\n'); end != std::string::npos; end = page.find('\n', start)) {
        lines.push_back(page.substr(start, end - start));
        start = end + 1;
    }
    return lines;
}

// The page as one paragraph, so that a sentence can be looked for wherever it was broken.
std::string flowing(const std::string& page) {
    return clean_text(page, page.size());
}

std::string page_of(const Project& project, bool more = false) {
    return plan_page(make_plan(project), {"planter", "planter.json", more});
}

Project courtyard() {
    Project p = hexagon_planter();
    p.courses = 2;
    p.accuracy.preset = Preset::garden;
    p.accuracy.common_angle_deg = 0.25;
    p.wanted.fit_last = 5;
    p.wanted.leave_long_mm = 6.0;
    p.assumed = {{"/tools/kerf", "saw cut 3 mm"}, {"/tools/scale_at_square", "the saw's scale reads 0 at a square cut"}};
    return p;
}

}  // namespace

TEST_CASE("the page of the planter says what a maker asks, in the order they ask it") {
    const std::string page = page_of(courtyard());
    const std::vector<std::string> order{"COURTYARD PLANTER - hexagon, 640 over the flats inside, two courses of 145",
                                         "CLOSES.",
                                         "CAN BE SAWN.",
                                         "BUY.",
                                         "seen from above",
                                         "BOARDS",
                                         "ANGLES",
                                         "BY HAND",
                                         "ORDER",
                                         "LAST JOINT",
                                         "CHECK",
                                         "TAKE CARE",
                                         "I ASSUMED",
                                         "NEXT"};
    std::size_t at = 0;
    for (const std::string& part : order) {
        INFO(part);
        const std::size_t found = page.find(part, at);
        REQUIRE(found != std::string::npos);
        at = found;
    }
    CHECK(lines_of(page).size() < 40);
}

TEST_CASE("the planter's numbers are those worked out by hand") {
    // tan S at D: 28 beside 38 at a turn of 60: tan S38 = (28/38 - cos 60)/sin 60 = 0.27348, S = 15.30; S28 = 44.70; rises 82.0
    // and 297.0 over 300. Side inside 640/sqrt(3) = 369.50; outside 369.50 + 2 x 38 tan 30 = 413.38.
    const std::string page = page_of(courtyard());
    const std::string text = flowing(page);
    CHECK_THAT(page, ContainsSubstring("  1    38        413.5           369.5      A 30      B 30\n"));
    CHECK_THAT(page, ContainsSubstring("  4    28          425           369.5      D 44.7    E 44.7\n"));
    CHECK_THAT(page, ContainsSubstring("fit last: leave A 6 long\n"));
    CHECK_THAT(text, ContainsSubstring("Six corners of 120 add up to 720, as six corners must."));
    CHECK_THAT(text, ContainsSubstring("Tilt to 15.3, 30 and 44.7; 4D and 4E are close to your saw's stop, 45."));
    CHECK_THAT(text, ContainsSubstring("Check: 30 + 30 = 60, 44.7 + 15.3 = 60."));
    CHECK_THAT(text, ContainsSubstring("set the bevel from 300: rise 82 for 15.3, 173 for 30 and 297 for 44.7."));
    CHECK_THAT(text,
               ContainsSubstring("1, 2 and 6 are alike until you trim 6A. 5 is 3 turned upside down (outside still outside)."));
    CHECK_THAT(text, ContainsSubstring("Cut 1B and 2B on test pieces: together they must make 120. If less, tilt less."));
    CHECK_THAT(text, ContainsSubstring("15.3 (4 ends), 30 (16), 44.7 (4)"));
    CHECK_THAT(text, ContainsSubstring("AD, BE and CF point to point inside, all 739"));
    CHECK_THAT(text, ContainsSubstring("inside: 739 x 640 over all"));
}

TEST_CASE("what would spoil wood is told first among the assumptions") {
    CHECK_THAT(flowing(page_of(courtyard())),
               ContainsSubstring("I ASSUMED the saw's scale reads 0 at a square cut; saw cut 3 mm. Change: boardring change planter \"scale at square is 90\""));
}

TEST_CASE("a garden job hides what is under a millimetre, a fine job does not") {
    Project p = courtyard();
    CHECK_THAT(flowing(page_of(p)), ContainsSubstring("it closes to under 1"));
    p.accuracy.preset = Preset::fine;
    const Plan plan = make_plan(p);
    CHECK_THAT(flowing(plan_page(plan, kPage)),
               ContainsSubstring("it closes to " + shown_misfit(plan.closure->set.spread->widest_mm, p)));
}

TEST_CASE("the odds of the wanted gap stand on the page, with what counts most") {
    const Plan plan = make_plan(courtyard());
    REQUIRE(plan.budget);
    const std::string odds = "Made with usual care " + of_hundred(plan.budget->spread.within) + " rings open 1 or less drawn in";
    CHECK_THAT(flowing(plan_page(plan, kPage)), ContainsSubstring(odds));
}

// Found: "6 would have to be left 145 long", right for boards fixed one by one, startles: nobody leaves a board longer than it is thick.
TEST_CASE("where errors pile up to more than a board is thick, the page says what to do instead of leaving the last one that long") {
    Project usual = courtyard();
    usual.accuracy.cut_angle_deg = 0.5;
    usual.accuracy.mark_mm = 1.0;
    const std::string piled = flowing(page_of(usual));
    CHECK_THAT(piled, ContainsSubstring("Do not fix joint by joint: up to ") && ContainsSubstring(" would pile up at A, where 6 long is too short in ") &&
                          ContainsSubstring(". Draw it in dry, true it, then fix.") && !ContainsSubstring("would have to be left"));
    Project careful = courtyard();
    careful.accuracy.common_angle_deg = careful.accuracy.cut_angle_deg = 0.02;
    careful.accuracy.mark_mm = 0.1;
    careful.wanted.leave_long_mm = 0.0;
    const std::string page = flowing(page_of(careful));
    CHECK_THAT(page, ContainsSubstring("So made and fixed one by one, 6 would have to be left ") && !ContainsSubstring("pile up"));
}

TEST_CASE("where nothing is known of the odds, the opening of a common error is 2 d w / cos S") {
    // Board 38 at 30 degrees: face 43.88; 0.25 degrees out at both cuts opens 0.383 mm; 1 mm allows 0.65, shown rounded down.
    Project p = courtyard();
    p.accuracy.preset = Preset::joinery;
    Plan plan = make_plan(p);
    plan.budget.reset();
    CHECK_THAT(flowing(plan_page(plan, kPage)), ContainsSubstring("Every cut off by 0.25 the same way opens 0.4; for 1 stay within 0.6."));
}

TEST_CASE("a saw that reads 90 at square is told its own numbers") {
    Project p = courtyard();
    p.tools.scale_at_square_deg = 90.0;
    p.tools.slope_by = SlopeBy::saw;
    const std::string text = flowing(page_of(p));
    CHECK_THAT(text, ContainsSubstring("Tilt to 74.5, 60 and 45.5"));
    CHECK_THAT(text, ContainsSubstring("as on your saw: 90 is a square cut."));
    CHECK_THAT(text, ContainsSubstring("45.5 + 74.5 = 120"));
    CHECK_THAT(text, ContainsSubstring("Your saw clicks every 0.5; exact is 74.7 for 74.5 and 45.3 for 45.5."));
}

TEST_CASE("a cut past the saw's stop changes the verdict") {
    Project p = courtyard();
    p.boards[3].thickness_mm = 18.0;
    const std::string text = flowing(page_of(p));
    CHECK_THAT(text, ContainsSubstring("SAW STOPS. Beyond it: 61.7 at 4D and 4E; your saw tilts to 45."));
    CHECK_THAT(text, ContainsSubstring("61.7 - 1.7 = 60"));
    CHECK_THAT(text, ContainsSubstring("61.7*"));
    CHECK_THAT(text, ContainsSubstring("DECIDE"));
    CHECK_THAT(text, ContainsSubstring("\"in\": there the inside is the longer side"));
}

TEST_CASE("an inward corner is shouted") {
    const std::string page = page_of(l_shaped_bed());
    CHECK_THAT(page, ContainsSubstring("IN-CORNER D."));
    CHECK_THAT(page, ContainsSubstring("90 + 90 + 90 + 270 + 90 + 90 = 720"));
}

TEST_CASE("an open chain has nothing to close and tells where its free end lands") {
    const std::string page = page_of(door_casing());
    CHECK_THAT(page, ContainsSubstring("OPEN CHAIN.   Nothing has to close: A and D are free ends,"));
    CHECK_THAT(page, ContainsSubstring("FREE ENDS"));
    CHECK_THAT(page, !ContainsSubstring("LAST JOINT"));
    CHECK_THAT(page, ContainsSubstring("seen from the room"));
}

TEST_CASE("half-laps say how deep, how long and which half stays") {
    const std::string text = flowing(page_of(lapped_frame()));
    CHECK_THAT(text, ContainsSubstring("LAPS Cut away 10 of the thickness"));
    CHECK_THAT(text, ContainsSubstring("Every cut is square."));
}

TEST_CASE("butts say who runs through") {
    Project p = hexagon_planter();
    for (JointAsked& joint : p.joints) joint.kind = JointKind::butt;
    CHECK_THAT(page_of(p), ContainsSubstring("runs through at"));
}

TEST_CASE("boards that are all alike take one row") {
    Project p = octagon_window();
    const std::string page = page_of(p);
    CHECK_THAT(page, ContainsSubstring("  1 to 8"));
    CHECK_THAT(page, ContainsSubstring("octagon, 600 over the flats inside, margin 6, 20 thick"));
}

TEST_CASE("an odd regular ring whose angles do not add up as printed says so") {
    Project p = project_of("Seven", RegularOutline{7, RegularOutline::Of::side, 300.0}, std::vector<double>(7, 30.0));
    const std::string text = flowing(page_of(p));
    CHECK_THAT(text, ContainsSubstring("Seven corners of 128.57 (rounded) add up to 900, as seven corners must."));
    CHECK_THAT(text, ContainsSubstring("25.7 + 25.7 = 51.4"));
}

TEST_CASE("extra pieces are listed with their ends") {
    Project p = hexagon_planter();
    Stock stock;
    stock.name = "rail";
    stock.width_mm = 145.0;
    stock.thickness_mm = 38.0;
    p.stock = {stock};
    PieceAsked foot;
    foot.name = "foot";
    foot.length_mm = 80.0;
    foot.count = 6;
    foot.right_saw_deg = 15.0;
    p.pieces = {foot};
    CHECK_THAT(page_of(p), ContainsSubstring("And 6 x foot, 80 long, left square, right 15."));
}

TEST_CASE("a hostile title or name can neither move the cursor nor fake a line") {
    Project p = hexagon_planter();
    p.title = "Evil\x1b[2J\nCLOSES.\xE2\x80\xAE" + std::string(300, 'x');
    const std::string page = plan_page(make_plan(p), {"a\x1b\nb", "c\r.json", true});
    CHECK(page.find('\x1b') == std::string::npos);
    CHECK(page.find('\r') == std::string::npos);
    CHECK(page.rfind("EVIL [2J CLOSES.", 0) == 0);
    for (const std::string& line : lines_of(page)) CHECK(columns_of(line) <= kPageColumns);
}

TEST_CASE("with more, every end has its square line and every setting its ends") {
    const std::string page = page_of(courtyard(), true);
    for (const char* part : {"MARKS", "SQUARE LINE", "JOINTS", "CUTS BY SETTING", "WOOD", "CLOSURE", "ASSUMED"})
        CHECK_THAT(page, ContainsSubstring(part));
    // 4D: 28 tan 30 = 16.17 along the outside edge, then 38 / cos 30 = 43.88 back.
    CHECK_THAT(page, ContainsSubstring("  4D     27.5      16       44\n"));
    CHECK_THAT(page, ContainsSubstring("1A 1B 2B 2C 3C 5F 6F 6A"));
}

TEST_CASE("the check page gives verdicts and every finding, and sends on to the plan") {
    Project p = courtyard();
    p.boards[3].thickness_mm = 18.0;
    const std::string page = check_page(make_plan(p), kPage);
    CHECK_THAT(page, ContainsSubstring("CLOSES."));
    CHECK_THAT(page, ContainsSubstring("SAW STOPS."));
    CHECK_THAT(page, ContainsSubstring("WARNING"));
    CHECK_THAT(page, ContainsSubstring("NEXT       boardring plan planter\n"));
    CHECK_THAT(page, !ContainsSubstring("BUY."));
}

TEST_CASE("a plan with an error is refused on both pages") {
    Plan plan = make_plan(courtyard());
    plan.findings.push_back({Severity::error, "outline.misclosure", "", "the sides do not meet", "measure again", 0, 0});
    CHECK(plan_page(plan, kPage).rfind("DOES NOT CLOSE.", 0) == 0);
    CHECK(check_page(plan, kPage).rfind("DOES NOT CLOSE.", 0) == 0);
}

TEST_CASE("a decision with a certain mend says the command under it") {
    Project project = hexagon_planter();
    project.boards[3].thickness_mm = 18.0;
    project.tools.tilt_limit_deg = 70.0;
    const std::string page = page_of(project);
    CHECK_THAT(page, ContainsSubstring("(joint.undercut)\n           boardring change planter \"joint D butt, 3 through\"\n"));
    // From standard input there is no file to change.
    CHECK_THAT(plan_page(make_plan(project), {"-", "standard input", false}), !ContainsSubstring("boardring change"));
}

TEST_CASE("what was assumed is changed by a command that stands on one line") {
    const std::string page = page_of(courtyard());
    CHECK_THAT(page, ContainsSubstring("boardring change planter \"scale at square is 90\""));
    Project project = courtyard();
    project.assumed = {{"/tools/kerf", "saw cut 3 mm"}};
    CHECK_THAT(page_of(project), ContainsSubstring("saw cut 3 mm. Change: boardring change planter \"kerf is 3 mm\""));
    project.assumed = {{"/boards/courses", "one course"}};
    CHECK_THAT(page_of(project), ContainsSubstring("one course. Change: boardring change --help"));
}

TEST_CASE("a row of several boards that butt alike says of no single letter what holds at every one") {
    Project p = project_of("Five", RegularOutline{5, RegularOutline::Of::side, 500.0}, std::vector<double>(5, 20.0));
    p.outline.line = OutlineLine::outside;
    for (JointAsked& joint : p.joints) joint.kind = JointKind::butt;
    const Plan plan = make_plan(p);
    REQUIRE(plan.cut_list->groups.size() == 1);
    const std::string page = flowing(plan_page(plan, kPage));
    CHECK_THAT(page, ContainsSubstring("5 fit last; runs through at the left end"));
    CHECK_THAT(page, !ContainsSubstring("runs through at E"));
    for (std::size_t k = 0; k < 5; ++k) {
        const std::size_t left = plan.shown[k].left_end;
        CHECK(plan.frame->boards[k].ends[left].runs_through);
        CHECK_FALSE(plan.frame->boards[k].ends[1 - left].runs_through);
    }
}

TEST_CASE("two settings that print alike are added up once, by the corner that is as printed") {
    // Corners of 89.94, 90.06, 89.94, 90.06: every half prints 45.
    const double turn = 0.06;
    const double off = 600.0 * std::tan(radians(turn));
    const Project p = project_of("Nearly", PointsOutline{{{0, 0}, {900, 0}, {900 - off, 600}, {-off, 600}}}, std::vector<double>(4, 60.0),
                                 false, Lie::flat);
    const std::string page = flowing(page_of(p));
    const std::size_t at = page.find("45 + 45 = ");
    REQUIRE(at != std::string::npos);
    CHECK(page.find("45 + 45 = ", at + 1) == std::string::npos);
}

TEST_CASE("rooms and weights are told in units that can be pictured") {
    const auto sizes = [](double side_mm, double width_mm) {
        Project p = project_of("Bed", RegularOutline{6, RegularOutline::Of::side, side_mm}, std::vector<double>(6, width_mm));
        return flowing(page_of(p));
    };
    CHECK_THAT(sizes(400.0, 38.0), ContainsSubstring("holds 60 litres"));  // 1.5 sqrt 3 x 0.16 x 145
    CHECK_THAT(sizes(9000.0, 60.0), ContainsSubstring("holds 30.5 cubic metres") && ContainsSubstring("tonnes"));
    CHECK_THAT(sizes(10.0, 1.0), ContainsSubstring("holds under 0.1 litres"));
}

TEST_CASE("whose book comes first is said once, however many cautions there are") {
    Project p = gate_arch();  // short pieces: a caution of its own
    p.tools.hold_length_mm = 600.0;
    const std::string page = flowing(page_of(p));
    CHECK_THAT(page, ContainsSubstring("or saw it by hand. (piece.too-short)"));
    const std::size_t at = page.find("own book comes first");
    REQUIRE(at != std::string::npos);
    CHECK(page.find("own book comes first", at + 1) == std::string::npos);
}
