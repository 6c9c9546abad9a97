#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "project/joint_kinds.hpp"
#include "report/board_drawing.hpp"
#include "report/drawing_parts.hpp"
#include "report/wording.hpp"
#include "support/catch.hpp"
#include "unit/report/drawing_checks.hpp"
#include "unit/report/drawn_plans.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

void check_card(const Drawing& d) {
    CHECK(overlapping_labels(d) == "");
    CHECK(label_under_circle(d) == "");
    CHECK(label_off_page(d) == "");
    CHECK(mark_off_page(d) == "");
    CHECK(smallest_text_mm(d) >= 2.5 - 1e-12);
    const Vec2 page = (1.0 / d.scale) * (d.page_high - d.page_low);
    CHECK(page.x <= kPaperShortMm + 1e-9);
    CHECK(page.y <= kPaperLongMm + 1e-9);
}

std::vector<Stroke> cuts_of(const Drawing& d) {
    std::vector<Stroke> cuts;
    std::copy_if(d.strokes.begin(), d.strokes.end(), std::back_inserter(cuts), [](const Stroke& s) { return s.pen == Pen::cut; });
    return cuts;
}

// Numbers a card must carry over its arrows, one for every mark of both edges; the datum's own are "0".
std::string missing_mark(const Drawing& d, const ShownBoard& board, const Project& project) {
    std::vector<std::string> wanted;
    for (const ShownEnd& end : board.ends) {
        for (const double mark : {end.inside_mark_mm, end.outside_mark_mm}) {
            if (mark > 0.5 * project.tools.rule_step_mm) wanted.push_back(shown(mark, project));
        }
        if (end.shoulder_inside_mm) wanted.push_back(shown(*end.shoulder_inside_mm, project));
        if (end.shoulder_outside_mm) wanted.push_back(shown(*end.shoulder_outside_mm, project));
    }
    for (const std::string& text : wanted) {
        const auto written = std::count_if(d.labels.begin(), d.labels.end(), [&](const Label& l) {
            return (l.text == text || l.text == "lap " + text) && l.strong && l.height / d.scale == kNumberMm;
        });
        if (written < std::count(wanted.begin(), wanted.end(), text)) return text;
    }
    return "";
}

std::vector<Project> projects_to_draw() {
    std::vector<Project> projects{hexagon_planter(), pentagon_bed(), octagon_window(), l_shaped_bed(),
                                  door_casing(),     wall_planter(), lapped_frame(),   gate_arch()};
    Project mirrored = pentagon_bed();
    for (Vec2& p : std::get<PointsOutline>(mirrored.outline.form).points_mm) p.y = -p.y;  // the list runs clockwise
    mirrored.joints[1].kind = JointKind::butt;
    mirrored.unit = Unit::foot;
    mirrored.tools.rule_step_mm = 25.4 / 8.0;
    projects.push_back(mirrored);
    Project upright = lapped_frame();
    upright.lie = Lie::on_edge;
    upright.unit = Unit::inch;
    upright.tools.rule_step_mm = 25.4 / 16.0;
    upright.tools.scale_at_square_deg = 90.0;
    for (BoardAsked& board : upright.boards) board.thickness_mm = 38.0;
    upright.courses = 3;
    projects.push_back(upright);
    return projects;
}

}  // namespace

TEST_CASE("Both cuts of a card lie at the board's marks and true angles", "[report][board-drawing]") {
    for (const Project& project : projects_to_draw()) {
        const Plan plan = make_plan(project);
        REQUIRE(plan.complete());
        for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
            const std::size_t k = plan.cut_list->groups[g].members.front().board;
            const Board& board = plan.frame->boards[k];
            const ShownBoard& marks = plan.shown[k];
            const Drawing d = draw_board(plan, g);
            CAPTURE(project.title, g, k);
            check_card(d);
            const std::vector<Stroke> cuts = cuts_of(d);  // left, right; each from the outside edge to the inside edge
            REQUIRE(cuts.size() == 2);
            const ShownEnd& left = marks.ends[marks.left_end];
            const ShownEnd& right = marks.ends[1 - marks.left_end];
            for (const Stroke& cut : cuts) {
                CHECK(cut.points[0].y == 0.0);
                CHECK(cut.points[1].y == board.width_mm);
            }
            CHECK_THAT(cuts[0].points[0].x, within_mm(left.outside_mark_mm, 1e-9));
            CHECK_THAT(cuts[0].points[1].x, within_mm(left.inside_mark_mm, 1e-9));
            const double gone = right.outside_mark_mm - cuts[1].points[0].x;  // what the break leaves out
            CHECK(gone > -1e-9);
            CHECK_THAT(right.inside_mark_mm - cuts[1].points[1].x, within_mm(gone, 1e-9));
            CHECK((gone > 1e-9) == says(d, "middle left out"));
            // True angles of what is set out, + where the outside is longer: within a step of the bevel of the exact ones.
            const auto set_deg = [&](std::size_t e) { return degrees(std::atan(board.ends[e].run_mm / board.width_mm)); };
            for (std::size_t e = 0; e < 2; ++e) {
                const double step_deg = degrees(project.tools.rule_step_mm / project.tools.bevel_base_mm);
                CHECK_THAT(set_deg(e), within_deg(board.ends[e].saw_deg, plan.unrounded ? step_deg : 1e-9));
            }
            const double left_saw = degrees(std::atan2(cuts[0].points[1].x - cuts[0].points[0].x, board.width_mm));
            const double right_saw = degrees(std::atan2(cuts[1].points[0].x - cuts[1].points[1].x, board.width_mm));
            CHECK_THAT(left_saw, within_deg(set_deg(marks.left_end), 1e-9));
            CHECK_THAT(right_saw, within_deg(set_deg(1 - marks.left_end), 1e-9));
        }
    }
}

TEST_CASE("A card carries every mark, both angles, which side is longer, mates and posture", "[report][board-drawing]") {
    for (const Project& project : projects_to_draw()) {
        const Plan plan = make_plan(project);
        REQUIRE(plan.complete());
        for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
            const PieceGroup& group = plan.cut_list->groups[g];
            const std::size_t k = group.members.front().board;
            const Drawing d = draw_board(plan, g);
            CAPTURE(project.title, g, k);
            CHECK(
                says(d, project.lie == Lie::on_edge ? "top edge up, outside face to you" : "show face up, outside edge to you"));
            CHECK(says(d, "Make " + std::to_string(group.count)));
            CHECK(count_labels(d, "0") >= 2);  // the datum of both edges
            CHECK(count_labels(d, "datum") == 1);
            CHECK(missing_mark(d, plan.shown[k], project) == "");
            for (std::size_t e = 0; e < 2; ++e) {
                const BoardEnd& end = plan.frame->boards[k].ends[e];
                const ShownEnd& marks = plan.shown[k].ends[e];
                CHECK(count_labels(d, corner_letter(end.corner)) >= 1);
                CHECK(count_labels(d, show_setting(end.saw_deg, project)) >= 1);
                const std::string name = board_number(k) + corner_letter(end.corner);
                CHECK(says(d, name));
                if (group.members.size() == 1 && end.mate) CHECK(says(d, board_number(*end.mate) + corner_letter(end.corner)));
                if (std::abs(end.saw_deg) < 0.005) {
                    CHECK(says(d, "Square: both edges end alike."));
                    continue;
                }
                const std::string longer = end.saw_deg > 0.0 ? "Outside longer by " : "INSIDE longer by ";
                CHECK(says(d, longer + shown(std::abs(end.run_mm), project)));
                CHECK(says(d, "S " + show_angle(std::abs(end.saw_deg)) + ", E " + show_angle(90.0 - std::abs(end.saw_deg))));
                CHECK(says(d, "Bevel: " + bevel_words(marks.bevel_rise_mm, marks.bevel_base_mm, project) + "."));
                if (end.lap) {
                    CHECK(says(d, end.lap->keeps_upper ? "the upper half stays" : "the lower half stays"));
                    CHECK(count_labels(d, "lap") == 2);
                }
            }
        }
    }
}

TEST_CASE("The big number is the one the maker's own scale reads", "[report][board-drawing]") {
    for (const double at_square : {0.0, 90.0}) {
        Project project = hexagon_planter();
        project.tools.scale_at_square_deg = at_square;
        const Plan plan = make_plan(project);
        const Drawing d = draw_board(plan, 0);  // 30 degrees at both ends
        std::vector<std::string> big;
        for (const Label& label : d.labels) {
            if (label.height / d.scale == kBigMm && std::isdigit(static_cast<unsigned char>(label.text[0])) != 0)
                big.push_back(label.text);
        }
        CHECK(big == std::vector<std::string>(2, at_square == 0.0 ? "30" : "60"));
    }
}

TEST_CASE("With clockwise letters the board's second letter lies at the left", "[report][board-drawing]") {
    for (const bool clockwise : {false, true}) {
        Project project = hexagon_planter();
        project.outline.letters_clockwise = clockwise;
        const Plan plan = make_plan(project);
        for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
            const std::size_t k = plan.cut_list->groups[g].members.front().board;
            const Drawing d = draw_board(plan, g);
            const auto x_of = [&](std::size_t corner) {
                const auto at = std::find_if(d.labels.begin(), d.labels.end(),
                                             [&](const Label& l) { return l.text == corner_letter(corner) && l.strong; });
                REQUIRE(at != d.labels.end());
                return at->at.x;
            };
            const auto& ends = plan.frame->boards[k].ends;
            CHECK((x_of(ends[0].corner) < x_of(ends[1].corner)) == !clockwise);
        }
    }
}

TEST_CASE("A letter stands on its own end's half of the card", "[report][board-drawing]") {
    Random random(53);
    std::vector<Project> projects = projects_to_draw();
    for (int i = 0; i < 40; ++i) {
        const double radius = random.log_between(80.0, 3000.0);
        projects.push_back(random_ring(random, 3 + random.index(8), radius, radius * random.log_between(0.02, 0.3)));
        for (JointAsked& joint : projects.back().joints) joint.kind = kJointKinds[random.index(kJointKinds.size())];
    }
    int seen = 0;
    for (const Project& project : projects) {
        const Plan plan = make_plan(project);
        if (!plan.cut_list) continue;
        for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
            const std::size_t k = plan.cut_list->groups[g].members.front().board;
            const Drawing d = draw_board(plan, g);
            const std::vector<Stroke> cuts = cuts_of(d);
            const double left = std::max(cuts[0].points[0].x, cuts[0].points[1].x),
                         right = std::min(cuts[1].points[0].x, cuts[1].points[1].x);
            for (std::size_t e = 0; e < 2; ++e) {
                const std::string letter = corner_letter(plan.frame->boards[k].ends[e].corner);
                const bool at_left = e == plan.shown[k].left_end;
                for (const Label& label : d.labels) {
                    if (label.text != letter || label.align != Align::centre) continue;
                    ++seen;
                    CAPTURE(project.title, g, letter);
                    CHECK((label.at.x - left < right - label.at.x) == at_left);
                }
            }
        }
    }
    CHECK(seen > 300);
}

TEST_CASE("No extension line runs through a mark's number", "[report][board-drawing]") {
    for (const Project& project : projects_to_draw()) {
        const Plan plan = make_plan(project);
        for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
            const Drawing d = draw_board(plan, g);
            for (const Label& label : d.labels) {
                if (!label.strong || label.align == Align::centre || label.text.find_first_of("0123456789") == std::string::npos)
                    continue;
                for (const Stroke& s : d.strokes) {
                    if (s.pen != Pen::dimension) continue;
                    CAPTURE(project.title, g, label.text);
                    CHECK(convex_gap(label_box(label), s.points) > -1e-6 * d.scale);
                }
            }
        }
    }
}

TEST_CASE("Angles are written on the wood", "[report][board-drawing]") {
    Random random(59);
    for (int i = 0; i < 60; ++i) {
        const double radius = random.log_between(60.0, 3000.0);
        Project project = random_ring(random, 3 + random.index(9), radius, radius * random.log_between(0.02, 0.3));
        for (JointAsked& joint : project.joints) joint.kind = kJointKinds[random.index(kJointKinds.size())];
        const Plan plan = make_plan(project);
        if (!plan.cut_list) continue;
        for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
            const Drawing d = draw_board(plan, g);
            const double width = plan.frame->boards[plan.cut_list->groups[g].members.front().board].width_mm;
            for (const Label& label : d.labels) {
                const bool angle =
                    label.align == Align::centre && (label.text.rfind("S ", 0) == 0 || label.text.rfind("E ", 0) == 0);
                if (!angle) continue;
                CHECK(label.at.y > 0.0);
                CHECK(label.at.y < width);
            }
        }
    }
}

TEST_CASE("Waste lies beyond the cuts and is hatched, wood between them", "[report][board-drawing]") {
    const Plan plan = make_plan(l_shaped_bed());
    for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
        const Drawing d = draw_board(plan, g);
        const std::vector<Stroke> cuts = cuts_of(d);
        std::vector<Region> waste, wood;
        for (const Region& r : d.regions) {
            if (r.fill == Fill::waste) waste.push_back(r);
            if (r.fill == Fill::wood) wood.push_back(r);
        }
        REQUIRE(waste.size() == 3);  // two ends and the sample in the legend
        for (std::size_t e = 0; e < 2; ++e) {
            for (const Region& r : wood) {
                if (r.points.size() == 4) CHECK(convex_gap(r.points, waste[e].points) > -1e-9);
            }
            CHECK(std::count(waste[e].points.begin(), waste[e].points.end(), cuts[e].points[0]) == 1);
            CHECK(std::count(waste[e].points.begin(), waste[e].points.end(), cuts[e].points[1]) == 1);
        }
    }
}

TEST_CASE("Turned members are named with their turning, and their ends by their own letters", "[report][board-drawing]") {
    const Plan plan = make_plan(hexagon_planter());
    for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
        const PieceGroup& group = plan.cut_list->groups[g];
        const Drawing d = draw_board(plan, g);
        for (const GroupMember& member : group.members) {
            for (const BoardEnd& end : plan.frame->boards[member.board].ends)
                CHECK(says(d, board_number(member.board) + corner_letter(end.corner)));
            if (member.turning == Turning::top_to_bottom) CHECK(says(d, "turned upside down (outside still outside)"));
        }
    }
    // Boards 3 and 5 of this planter are one piece, one of them turned.
    CHECK(std::any_of(plan.cut_list->groups.begin(), plan.cut_list->groups.end(), [](const PieceGroup& group) {
        return group.members.size() == 2 && group.members[1].turning == Turning::top_to_bottom;
    }));
}

TEST_CASE("Only the ends of a group that are free are called free", "[report][board-drawing]") {
    Project project = gate_arch();
    project.outline.line = OutlineLine::middle;
    project.first_end.saw_deg = 0.5 * 180.0 / 7.0;  // radial ends, like every joint: all seven pieces are one
    project.last_end.saw_deg = project.first_end.saw_deg;
    const Plan plan = make_plan(project);
    REQUIRE(plan.cut_list->groups.size() == 1);
    const Drawing d = draw_board(plan, 0);
    CHECK(says(d, "1A, 2B, 3C, 4D, 5E, 6F and 7G: same letters meet; 1A free."));
    CHECK(says(d, "1B, 2C, 3D, 4E, 5F, 6G and 7H: same letters meet; 7H free."));
}

TEST_CASE("A slope too small for the rule is said to be small, not nothing", "[report][board-drawing]") {
    Project project = door_casing();
    project.first_end.saw_deg = 0.1;
    const Plan plan = make_plan(project);
    const Drawing d = draw_board(plan, 0);
    CHECK(says(d, "Outside longer by less than 0.5."));
}

TEST_CASE("Extra pieces are drawn by their own length and slopes", "[report][board-drawing]") {
    Project project = hexagon_planter();
    project.stock.push_back({"rail", "", 145.0, 38.0, Surface::plain, "", 20.0, {}});
    project.pieces.push_back({"foot", 0, 200.0, 6, 0.0, 15.0, ""});
    project.pieces.push_back({"wedge <i>", 0, 60.0, 2, -20.0, 30.0, ""});
    const Plan plan = make_plan(project);
    REQUIRE(plan.complete());
    int extras = 0;
    for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
        const PieceGroup& group = plan.cut_list->groups[g];
        if (!group.extra) continue;
        ++extras;
        const PieceAsked& asked = project.pieces[*group.extra];
        const Drawing d = draw_board(plan, g);
        check_card(d);
        const std::vector<Stroke> cuts = cuts_of(d);
        REQUIRE(cuts.size() == 2);
        CHECK_THAT(degrees(std::atan2(cuts[0].points[1].x - cuts[0].points[0].x, 38.0)), within_deg(asked.left_saw_deg, 1e-9));
        CHECK_THAT(degrees(std::atan2(cuts[1].points[0].x - cuts[1].points[1].x, 38.0)), within_deg(asked.right_saw_deg, 1e-9));
        CHECK(std::min(cuts[0].points[0].x, cuts[0].points[1].x) == 0.0);
        CHECK(count_labels(d, shown(asked.length_mm, project)) >= 1);
        CHECK(says(d, "Make " + std::to_string(asked.count)));
    }
    CHECK(extras == 2);
}

TEST_CASE("Cards of random rings keep their labels apart and miss no mark", "[report][board-drawing]") {
    Random random(47);
    int drawn = 0;
    for (int i = 0; i < 120; ++i) {
        const std::size_t n = 3 + random.index(10);
        const double radius = random.log_between(60.0, 4000.0);
        Project project = random_ring(random, n, radius, radius * random.log_between(0.02, 0.3));
        project.unit = static_cast<Unit>(random.index(5));
        if (project.unit == Unit::inch || project.unit == Unit::foot) project.tools.rule_step_mm = 25.4 / 32.0;
        for (JointAsked& joint : project.joints) joint.kind = kJointKinds[random.index(kJointKinds.size())];
        const Plan plan = make_plan(project);
        if (!plan.cut_list) continue;
        for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
            ++drawn;
            const std::size_t k = plan.cut_list->groups[g].members.front().board;
            const Drawing d = draw_board(plan, g);
            CAPTURE(i, g, n, radius);
            check_card(d);
            CHECK(count_labels(d, "0") >= 2);
            CHECK(count_labels(d, "datum") == 1);
            CHECK(missing_mark(d, plan.shown[k], project) == "");
        }
    }
    CHECK(drawn > 200);
}

TEST_CASE("a board that tapers is drawn as wide at each end as it is, with that end's true angle", "[report][board-drawing]") {
    for (const OutlineLine line : {OutlineLine::inside, OutlineLine::outside, OutlineLine::middle}) {
        Project project = pentagon_bed();
        project.outline.line = line;
        project.boards[1].taper_mm = -9.0;
        project.boards[3].taper_mm = 12.0;
        const Plan plan = make_plan(project);
        REQUIRE(plan.complete());
        for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
            const std::size_t k = plan.cut_list->groups[g].members.front().board;
            const Board& board = plan.frame->boards[k];
            const Drawing d = draw_board(plan, g);
            CAPTURE(g, k, board.taper_mm);
            check_card(d);
            const std::vector<Stroke> cuts = cuts_of(d);
            REQUIRE(cuts.size() == 2);
            for (std::size_t side = 0; side < 2; ++side) {
                const std::size_t e = side == 0 ? plan.shown[k].left_end : 1 - plan.shown[k].left_end;
                const Vec2 across = cuts[side].points[1] - cuts[side].points[0];
                CHECK_THAT(across.y, within_mm(board.width_at(e), 1e-9));
                const double lean_deg = degrees(std::atan2(side == 0 ? across.x : -across.x, across.y));
                CHECK_THAT(lean_deg, WithinAbs(board.ends[e].saw_deg, 0.75));  // marks are on the rule's steps, 0.5 in some 40
            }
            // The face it is marked from is straight; the other takes the taper.
            const double in = cuts[0].points[1].y - cuts[1].points[1].y, out = cuts[0].points[0].y - cuts[1].points[0].y;
            if (line == OutlineLine::inside) CHECK_THAT(in, within_mm(0.0, 1e-9));
            if (line == OutlineLine::outside) CHECK_THAT(out, within_mm(0.0, 1e-9));
            if (line == OutlineLine::middle) CHECK_THAT(in + out, within_mm(0.0, 1e-9));
        }
    }
}
