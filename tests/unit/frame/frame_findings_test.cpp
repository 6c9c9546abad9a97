#include "frame/frame_findings.hpp"

#include <string>
#include <vector>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"
#include "unit/frame/made_frames.hpp"

using namespace boardring;
using boardring_test::findings_of;
using boardring_test::kRectangle;
using boardring_test::outline_through;
using boardring_test::project_for;
using boardring_test::regular_ring;
using boardring_test::with_code;

TEST_CASE("a butt that names a board from elsewhere is refused", "[unit][frame]") {
    const Outline outline = outline_through(kRectangle);
    Project project = project_for(outline, {38.0});
    project.joints[1].kind = JointKind::butt;
    project.joints[1].through = 3;
    const Findings findings = findings_of(project, outline);
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].code == "joint.through-elsewhere");
    CHECK(findings[0].pointer == "/joints/1");
    CHECK_THAT(findings[0].message, ContainsSubstring("boards 1 and 2 meet") && ContainsSubstring("board 4"));
}

TEST_CASE("a free end nearly along the board is refused", "[unit][frame]") {
    const Outline outline = outline_through({{0.0, 600.0}, {0.0, 0.0}, {900.0, 0.0}}, false);
    Project project = project_for(outline, {40.0});
    project.last_end = {-89.5, "/ends/C"};
    const Findings findings = findings_of(project, outline);
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].code == "end.too-flat");
    CHECK(findings[0].pointer == "/ends/C");
    CHECK_THAT(findings[0].message, ContainsSubstring("End C would be cut 89.5 from square"));
}

TEST_CASE("a straight corner between unequal boards names the remedies", "[unit][frame]") {
    const Outline outline = outline_through({{0.0, 0.0}, {450.0, 0.0}, {900.0, 0.0}, {900.0, 600.0}, {0.0, 600.0}});
    Project project = project_for(outline, {38.0, 28.0, 38.0, 38.0, 38.0});
    Findings found = with_code(findings_of(project, outline), "joint.straight-unequal");
    REQUIRE(found.size() == 1);
    CHECK(found[0].severity == Severity::error);
    CHECK(found[0].pointer == "/joints/1");
    CHECK_THAT(found[0].message,
               ContainsSubstring("At B boards 1 and 2") && ContainsSubstring("38 mm thick") && ContainsSubstring("28 mm"));
    CHECK_THAT(found[0].fix, ContainsSubstring("pack board 2 out by 10 mm") && ContainsSubstring("leave corner B out"));

    project = project_for(outline, {38.0});
    project.outline.margin_mm[1] = 6.0;
    found = with_code(findings_of(project, outline), "joint.straight-unequal");
    REQUIRE(found.size() == 1);
    CHECK_THAT(found[0].message, ContainsSubstring("6 mm apart"));
    CHECK_THAT(found[0].fix, ContainsSubstring("same margin"));
}

TEST_CASE("a straight corner cannot be butted or lapped and says what to do instead", "[unit][frame]") {
    const Outline outline = outline_through({{0.0, 0.0}, {450.0, 0.0}, {900.0, 0.0}, {900.0, 600.0}, {0.0, 600.0}});
    Project project = project_for(outline, {38.0});
    for (const JointKind kind : {JointKind::butt, JointKind::half_lap}) {
        project.joints[1].kind = kind;
        const Findings findings = findings_of(project, outline);
        REQUIRE(findings.size() == 1);
        CHECK(findings[0].code == "joint.straight-overlap");
        CHECK(findings[0].pointer == "/joints/1");
        CHECK_THAT(findings[0].fix, ContainsSubstring("Make B a mitre") && ContainsSubstring("leave corner B out"));
    }
}

TEST_CASE("an edge that vanishes is told with the board, by how much, and the shortest side that works", "[unit][frame]") {
    // Board 2 lies on a side of 60; the inside is cut away by neighbours 38 thick inside the line: 38 and 38 tan 30.2.
    const Outline outline = outline_through({{0.0, 0.0}, {600.0, 0.0}, {600.0, 60.0}, {0.0, 400.0}});
    Project project = project_for(outline, {38.0});
    project.outline.line = OutlineLine::outside;
    const Findings found = with_code(findings_of(project, outline), "board.edge-vanishes");
    REQUIRE(found.size() == 1);
    CHECK(found[0].severity == Severity::error);
    CHECK(found[0].pointer == "/boards/2");
    CHECK_THAT(found[0].message,
               ContainsSubstring("Board 2 has no inside edge left: side BC is 60 mm") && ContainsSubstring("0.14 mm more"));

    // The side it names works, half a step less does not.
    const std::size_t at = found[0].fix.find("at least ") + 9;
    const double side = std::stod(found[0].fix.substr(at));
    CHECK(side > 60.0);
    for (const double more : {0.0, -0.5}) {
        const Outline moved = outline_through({{0.0, 0.0}, {600.0, 0.0}, {600.0, side + more}, {0.0, side + more + 340.0}});
        CHECK(build_frame(project, moved).ok() == (more == 0.0));
    }
}

TEST_CASE("edges that vanish alike are told once, and a margin that moved them is named", "[unit][frame]") {
    const Outline hexagon = regular_ring(6, 369.5);
    Project project = project_for(hexagon, {38.0});
    project.outline.margin_mm.assign(6, -700.0);
    const Findings found = findings_of(project, hexagon);
    REQUIRE(found.size() == 1);
    CHECK(found[0].code == "board.edge-vanishes");
    CHECK_THAT(found[0].message, ContainsSubstring("Boards 1 to 6 have no edge at all left: their sides are 369.5 mm"));
    CHECK_THAT(found[0].fix, ContainsSubstring("A margin of -700 mm moves boards inward"));
    // Where one board alone was moved it is the boards beside it that lose their edge: the margin named is the one that did it.
    project.outline.margin_mm.assign(6, -8.0);
    project.outline.margin_mm[1] = -700.0;
    const Findings beside = with_code(findings_of(project, hexagon), "board.edge-vanishes");
    REQUIRE_FALSE(beside.empty());
    for (const Finding& one : beside) CHECK_THAT(one.fix, ContainsSubstring("A margin of -700 mm at board 2 moves boards inward"));

    // Two pairs of sides that vanish by unlike amounts are two findings.
    const Outline oblong = outline_through({{0.0, 0.0}, {60.0, 0.0}, {60.0, 50.0}, {0.0, 50.0}});
    Project narrow = project_for(oblong, {38.0});
    narrow.outline.line = OutlineLine::outside;
    const Findings two = findings_of(narrow, oblong);
    REQUIRE(two.size() == 2);
    CHECK_THAT(two[0].message, ContainsSubstring("Boards 1 and 3 have no inside edge left: their sides are 60 mm"));
    CHECK_THAT(two[1].message, ContainsSubstring("Boards 2 and 4 have no inside edge left: their sides are 50 mm"));
    CHECK_THAT(two[0].fix, !ContainsSubstring("margin"));
}

TEST_CASE("nearly straight corners between unequal boards get a hint beside the vanished edge", "[unit][frame]") {
    const Outline outline = outline_through({{0.0, 0.0}, {450.0, -1.0}, {900.0, 0.0}, {900.0, 600.0}, {0.0, 600.0}});
    const Findings found =
        with_code(findings_of(project_for(outline, {38.0, 28.0, 38.0, 38.0, 38.0}), outline), "board.edge-vanishes");
    REQUIRE_FALSE(found.empty());
    CHECK_THAT(found[0].fix, ContainsSubstring("At B the boards turn by only"));
    const Findings undercut =
        with_code(findings_of(project_for(outline, {38.0, 28.0, 38.0, 38.0, 38.0}), outline), "joint.undercut");
    REQUIRE(undercut.size() == 1);
    CHECK_THAT(undercut[0].fix, ContainsSubstring("one thickness on both sides of B"));
    CHECK_THAT(undercut[0].fix, !ContainsSubstring("Butt"));
}

TEST_CASE("boards across the ring that share wood are named with a length that frees them", "[unit][frame]") {
    // A slot 50 wide between boards 2 and 4, whose 38s lie in the slot.
    const auto slotted = [](double wide) {
        return outline_through({{0.0, 0.0},
                                {300.0, 0.0},
                                {300.0, 400.0},
                                {300.0 + wide, 400.0},
                                {300.0 + wide, 0.0},
                                {900.0, 0.0},
                                {900.0, 600.0},
                                {0.0, 600.0}});
    };
    Project project = project_for(slotted(50.0), {38.0});
    const Findings findings = findings_of(project, slotted(50.0));
    CHECK(has_error(findings));
    // Board 3 at the bottom of the slot has no outside edge left. Its neighbours 2 and 4 lie across each other for that reason
    // and are not told again; boards 1 and 5 at the mouth share wood of their own.
    CHECK(with_code(findings, "board.edge-vanishes").size() == 1);
    const Findings mouth = with_code(findings, "board.overlap");
    REQUIRE(mouth.size() == 1);
    CHECK_THAT(mouth[0].message, ContainsSubstring("Boards 1 and 5 would share wood"));
    CHECK_THAT(mouth[0].fix, ContainsSubstring("Make side CD at least 76.5 mm (it is 50 mm)"));
    CHECK(build_frame(project, slotted(76.5)).ok());
    CHECK_FALSE(build_frame(project, slotted(75.5)).ok());

    // An open chain that comes back towards its first board: the last board must stay clear of it.
    const auto hook = [](double middle) {
        return outline_through(
            {{0.0, 500.0}, {0.0, 0.0}, {middle, 0.0}, {middle, 300.0}, {middle - 150.0, 300.0}, {middle - 150.0, 250.0}}, false);
    };
    Project hooked = project_for(hook(200.0), {38.0});
    CHECK(build_frame(hooked, hook(200.0)).ok());
    const Outline close = hook(140.0);
    const Findings found = with_code(findings_of(hooked, close), "board.overlap");
    REQUIRE_FALSE(found.empty());
    CHECK(found[0].pointer == "/boards/1");
    CHECK_THAT(found[0].message, ContainsSubstring("would share wood"));
    CHECK_THAT(found[0].fix, ContainsSubstring("Make side BC at least"));
    const std::size_t at = found[0].fix.find("at least ") + 9;
    const double needed = std::stod(found[0].fix.substr(at));
    CHECK(needed > 140.0);
    CHECK(build_frame(hooked, hook(needed)).ok());
    CHECK_FALSE(build_frame(hooked, hook(needed - 1.0)).ok());
}

TEST_CASE("of one trouble twenty are told, and how many more there are", "[unit][frame]") {
    const Outline outline = regular_ring(40, 5.0);
    Project project = project_for(outline, {38.0});
    // Boards of which the same would be said are told together; a hair of difference in their margins parts them.
    for (std::size_t k = 0; k < 40; ++k) project.outline.margin_mm[k] = 0.001 * static_cast<double>(k);
    project.outline.line = OutlineLine::outside;
    const Findings found = with_code(findings_of(project, outline), "board.edge-vanishes");
    REQUIRE(found.size() == 20);
    CHECK_THAT(found.back().message, ContainsSubstring("So it is with 20 more boards."));
}

TEST_CASE("laps that meet on a short board are refused", "[unit][frame]") {
    const Outline outline = outline_through({{0.0, 0.0}, {900.0, 0.0}, {900.0, 70.0}, {0.0, 70.0}});
    Project project = project_for(outline, {40.0});
    project.outline.line = OutlineLine::outside;
    for (JointAsked& joint : project.joints) joint.kind = JointKind::half_lap;
    const Findings found = with_code(findings_of(project, outline), "board.laps-meet");
    REQUIRE(found.size() == 2);
    CHECK(found[0].pointer == "/boards/2");
    CHECK_THAT(found[0].message, ContainsSubstring("Board 2") && ContainsSubstring("10 mm"));
    CHECK_THAT(found[0].fix, ContainsSubstring("Make side BC at least 80.5 mm"));
}

TEST_CASE("an undercut mitre is a warning with both slopes and three ways out", "[unit][frame]") {
    const Outline outline = regular_ring(6, 600.0);
    const Result<Frame> made = build_frame(project_for(outline, {38.0, 38.0, 38.0, 18.0, 38.0, 38.0}), outline);
    REQUIRE(made.ok());
    const Findings found = with_code(made.findings(), "joint.undercut");
    REQUIRE(found.size() == 2);
    CHECK(found[0].severity == Severity::warning);
    CHECK(found[0].pointer == "/joints/3");
    CHECK_THAT(found[0].message, ContainsSubstring("At D (120) board 3 is 38 mm thick and board 4 only 18 mm") &&
                                     ContainsSubstring("1.7") && ContainsSubstring("61.7"));
    CHECK_THAT(found[0].fix, ContainsSubstring("Butt D with board 3 running through") &&
                                 ContainsSubstring("plane board 3 to 36 mm") && ContainsSubstring("like meets like"));
    CHECK(found[1].pointer == "/joints/4");
    CHECK_THAT(found[1].message, ContainsSubstring("board 5 is 38 mm"));

    // Exactly at the limit, 19 beside 38, there is a square cut and nothing to warn of.
    CHECK(with_code(findings_of(project_for(outline, {38.0, 38.0, 38.0, 19.0, 38.0, 38.0}), outline), "joint.undercut").empty());
}

TEST_CASE("boards of two heights are told once, with the step at every joint", "[unit][frame]") {
    const Outline outline = regular_ring(6, 600.0);
    Project project = project_for(outline, {38.0});
    project.boards[3].width_mm = 120.0;
    Findings found = with_code(findings_of(project, outline), "joint.unequal-heights");
    REQUIRE(found.size() == 1);
    CHECK(found[0].severity == Severity::warning);
    CHECK(found[0].pointer == "/boards/4");
    CHECK_THAT(found[0].message,
               ContainsSubstring("D by 25 mm (board 3 145 mm, board 4 120 mm)") && ContainsSubstring("E by 25 mm"));
    CHECK_THAT(found[0].fix, ContainsSubstring("120 mm"));

    // What the maker's rule cannot show is not spoken of.
    project.boards[3].width_mm = 144.8;
    CHECK(with_code(findings_of(project, outline), "joint.unequal-heights").empty());
}

TEST_CASE("moulded boards of two widths cannot be mitred", "[unit][frame]") {
    const Outline outline = outline_through(kRectangle);
    Project project = project_for(outline, {18.0});
    project.lie = Lie::flat;
    project.stock.resize(1);
    project.stock[0].surface = Surface::moulded;
    for (BoardAsked& board : project.boards) {
        board.stock = 0;
        board.width_mm = 70.0;
    }
    CHECK(build_frame(project, outline).ok());
    project.boards[1].width_mm = 57.0;
    const Findings found = with_code(findings_of(project, outline), "joint.unequal-moulded");
    REQUIRE(found.size() == 2);
    CHECK(found[0].severity == Severity::error);
    CHECK(found[0].pointer == "/joints/1");
    CHECK_THAT(found[0].message, ContainsSubstring("At B moulded boards 1 (70 mm wide) and 2 (57 mm wide)"));
    project.stock[0].surface = Surface::plain;
    CHECK(with_code(findings_of(project, outline), "joint.unequal-moulded").empty());
}

TEST_CASE("all findings of the stage come together", "[unit][frame]") {
    const Outline outline = outline_through({{0.0, 0.0}, {450.0, 0.0}, {900.0, 0.0}, {900.0, 20.0}, {0.0, 20.0}});
    Project project = project_for(outline, {38.0, 28.0, 38.0, 38.0, 38.0});
    project.outline.line = OutlineLine::outside;
    project.boards[2].width_mm = 100.0;
    const Findings findings = findings_of(project, outline);
    CHECK(with_code(findings, "joint.straight-unequal").size() == 1);
    CHECK(with_code(findings, "joint.unequal-heights").size() == 1);
    CHECK(with_code(findings, "board.edge-vanishes").size() == 2);
    for (const Finding& finding : findings) {
        CHECK_FALSE(finding.pointer.empty());
        CHECK_FALSE(finding.fix.empty());
    }
}

TEST_CASE("inch users read inches", "[unit][frame]") {
    const Outline outline = regular_ring(6, 600.0);
    Project project = project_for(outline, {38.1, 38.1, 38.1, 19.0, 38.1, 38.1});
    project.unit = Unit::inch;
    project.tools.rule_step_mm = 25.4 / 16.0;
    const Findings found = with_code(findings_of(project, outline), "joint.undercut");
    REQUIRE(found.size() == 2);
    CHECK_THAT(found[0].message, ContainsSubstring("1-1/2 in thick"));
}

TEST_CASE("boards that taper are told once, with the face to work from; a taper no mill makes is asked about", "[unit][frame]") {
    const Outline outline = regular_ring(6, 370.0);
    Project project = project_for(outline, {38.0});
    project.boards[3].taper_mm = -1.4;
    const Result<Frame> made = build_frame(project, outline);
    REQUIRE(made.ok());
    REQUIRE(made.findings().size() == 1);
    const Finding& note = made.findings()[0];
    CHECK(note.code == "board.tapers");
    CHECK(note.severity == Severity::note);
    CHECK(note.pointer == "/boards/4");
    CHECK_THAT(note.message, ContainsSubstring("Board 4 is 38 mm at D, 36.5 mm at E") && ContainsSubstring("the inside face"));
    CHECK_THAT(note.fix, ContainsSubstring("0.2 degrees"));
    // Each end as a parallel board of that end's width would have it.
    const Frame& frame = made.value();
    Project thin = project_for(outline, {38.0, 38.0, 38.0, 36.6, 38.0, 38.0});
    const Result<Frame> thin_made = build_frame(thin, outline);
    REQUIRE(thin_made.ok());
    const Frame& like = thin_made.value();
    CHECK_THAT(frame.boards[3].ends[0].saw_deg, WithinAbs(30.0, 1e-12));
    CHECK_THAT(frame.boards[3].ends[1].saw_deg, WithinAbs(like.boards[3].ends[1].saw_deg, 1e-12));
    CHECK_THAT(frame.boards[4].ends[0].saw_deg, WithinAbs(like.boards[4].ends[0].saw_deg, 1e-12));

    project.boards[0].taper_mm = 10.0;
    const Findings findings = build_frame(project, outline).findings();
    REQUIRE(findings.size() == 2);
    CHECK_THAT(findings[0].message, ContainsSubstring("Board 1 is 28 mm at A, 38 mm at B; board 4 is 38 mm at D"));
    CHECK(findings[1].code == "board.taper-steep");
    CHECK_THAT(findings[1].message, ContainsSubstring("1 in 37"));
}
