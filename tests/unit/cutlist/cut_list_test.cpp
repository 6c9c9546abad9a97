#include "cutlist/cut_list.hpp"

#include <cmath>
#include <cstddef>
#include <vector>

#include "support/catch.hpp"
#include "support/random.hpp"
#include "support/ring.hpp"

using namespace boardring;
using boardring_test::outline_through;
using boardring_test::project_for;
using boardring_test::Random;
using boardring_test::regular_ring;

namespace {

Frame frame_of(const Project& project, const Outline& outline) {
    const Result<Frame> made = build_frame(project, outline);
    REQUIRE(made.ok());
    return made.value();
}

Board board_of(double width_mm, double height_mm) {
    Board board;
    board.width_mm = width_mm;
    board.height_mm = height_mm;
    return board;
}

// The hexagon of six 38 boards, one of them 28, two courses: 640 over the flats inside.
struct OddHexagon {
    Outline outline = regular_ring(6, 640.0 / std::sqrt(3.0));
    Project project = project_for(outline, {38.0, 38.0, 38.0, 28.0, 38.0, 38.0});
    OddHexagon() { project.courses = 2; }
};

}  // namespace

TEST_CASE("a board on edge is tilted lying flat, or swung standing while the fence holds it", "[unit][cutlist]") {
    Project project;
    project.lie = Lie::on_edge;
    const std::vector<SawWay> low = ways_to_saw(project, board_of(38.0, 90.0), -47.0);
    REQUIRE(low.size() == 2);
    CHECK(low[0].motion == SawWay::Motion::tilt);
    CHECK(low[0].lies_flat);
    CHECK(low[0].setting_deg == 47.0);
    CHECK_FALSE(low[0].within_saw);  // tilts to 45
    CHECK(low[1].motion == SawWay::Motion::swing);
    CHECK_FALSE(low[1].lies_flat);
    CHECK(low[1].within_saw);  // swings to 50, and 90 is as high as the fence
    CHECK_FALSE(ways_to_saw(project, board_of(38.0, 90.1), 47.0)[1].within_saw);
    CHECK_FALSE(ways_to_saw(project, board_of(38.0, 60.0), 50.1)[1].within_saw);
}

TEST_CASE("a flat board is swung lying, or tilted standing while the fence holds its width", "[unit][cutlist]") {
    Project project;
    project.lie = Lie::flat;
    const std::vector<SawWay> ways = ways_to_saw(project, board_of(70.0, 18.0), 44.0);
    CHECK(ways[0].motion == SawWay::Motion::swing);
    CHECK(ways[0].lies_flat);
    CHECK(ways[0].within_saw);
    CHECK(ways[1].motion == SawWay::Motion::tilt);
    CHECK_FALSE(ways[1].lies_flat);
    CHECK(ways[1].within_saw);
    CHECK_FALSE(ways_to_saw(project, board_of(120.0, 18.0), 10.0)[1].within_saw);
}

TEST_CASE("a setting passes a limit it is over by less than anybody knows their saw's stop", "[unit][cutlist]") {
    Project project;
    project.lie = Lie::on_edge;
    CHECK(ways_to_saw(project, board_of(38.0, 145.0), 45.00000000000001)[0].within_saw);
    CHECK(ways_to_saw(project, board_of(38.0, 145.0), 45.04)[0].within_saw);
    CHECK_FALSE(ways_to_saw(project, board_of(38.0, 145.0), 45.06)[0].within_saw);
}

TEST_CASE("rough length adds one saw cut along the steeper end, and what the last board is left long", "[unit][cutlist]") {
    OddHexagon planter;
    planter.project.wanted.leave_long_mm = 6.0;
    const Frame frame = frame_of(planter.project, planter.outline);
    const CutList list = list_cuts(planter.project, frame);
    // 369.504 + 2 * 38 tan 30 = 413.383; a kerf of 3 along 30 degrees is 3.464
    CHECK_THAT(list.rough_length_mm[0], within_mm(413.3826 + 3.4641, 1e-3));
    CHECK_THAT(list.rough_length_mm[5], within_mm(413.3826 + 3.4641 + 6.0, 1e-3));  // fit last: the last board unless named
    planter.project.wanted.fit_last = 0;
    CHECK_THAT(rough_length_mm(planter.project, frame, 0), within_mm(413.3826 + 3.4641 + 6.0, 1e-3));
    CHECK_THAT(rough_length_mm(planter.project, frame, 5), within_mm(413.3826 + 3.4641, 1e-3));
}

TEST_CASE("cuts are counted by setting, lefts and rights, with the corner two test pieces must make", "[unit][cutlist]") {
    const OddHexagon planter;
    const CutList list = list_cuts(planter.project, frame_of(planter.project, planter.outline));
    REQUIRE(list.settings.size() == 3);
    // tan S of the 28 beside a 38: (38/28 - cos 60) / sin 60, S = 44.7047; the 38 takes the rest of 60
    CHECK_THAT(list.settings[0].setting_deg, within_deg(60.0 - 44.7047, 1e-4));
    CHECK_THAT(list.settings[0].shown_deg, within_deg(15.3, 1e-12));
    CHECK(list.settings[0].count == 4);
    CHECK_FALSE(list.settings[0].test_pair_deg);
    CHECK_THAT(list.settings[1].setting_deg, within_deg(30.0, 1e-12));
    CHECK(list.settings[1].count == 16);
    CHECK(list.settings[1].left == 8);
    CHECK(list.settings[1].right == 8);
    REQUIRE(list.settings[1].test_pair_deg);
    CHECK_THAT(*list.settings[1].test_pair_deg, within_deg(120.0, 1e-12));
    CHECK(list.settings[1].test_corner == 0);
    CHECK_THAT(list.settings[2].shown_deg, within_deg(44.7, 1e-12));
    CHECK(list.settings[2].left == 2);
    CHECK(list.settings[2].right == 2);
    CHECK(list.settings[2].cuts.size() == 2);
    CHECK(list.settings[2].within_saw);
}

TEST_CASE("a board whose ends lean the same way has two cuts of one hand", "[unit][cutlist]") {
    // An open chain of one board: outside longer at the right end, inside longer at the left.
    const Outline outline = outline_through({{0, 0}, {900, 0}}, false);
    Project project = project_for(outline, {38.0});
    project.first_end.saw_deg = -20.0;
    project.last_end.saw_deg = 20.0;
    const CutList list = list_cuts(project, frame_of(project, outline));
    REQUIRE(list.settings.size() == 1);
    // With the longer edge towards the maker both cuts are at the right end.
    CHECK(list.settings[0].left == 0);
    CHECK(list.settings[0].right == 2);

    SECTION("clockwise letters show the mirror image") {
        Outline mirror = outline;
        mirror.letters_clockwise = true;
        const CutList seen = list_cuts(project, frame_of(project, mirror));
        CHECK(seen.settings[0].left == 2);
        CHECK(seen.settings[0].right == 0);
    }
}

TEST_CASE("an inward corner's test pair makes the corner a protractor can read", "[unit][cutlist]") {
    const Outline outline = outline_through({{0, 0}, {1200, 0}, {1200, 600}, {600, 600}, {600, 1200}, {0, 1200}});
    const Project project = project_for(outline, {38.0});
    const CutList list = list_cuts(project, frame_of(project, outline));
    REQUIRE(list.settings.size() == 1);
    CHECK(list.settings[0].count == 12);
    CHECK_THAT(list.settings[0].test_pair_deg.value(), within_deg(90.0, 1e-9));
    CHECK(list.settings[0].left + list.settings[0].right == 12);

    // With butts everywhere else the inward corner D is the only mitre: 270 inside, 90 between two test pieces.
    Project butts = project;
    for (std::size_t c : {0U, 1U, 2U, 4U, 5U}) butts.joints[c].kind = JointKind::butt;
    const CutList inward = list_cuts(butts, frame_of(butts, outline));
    REQUIRE(inward.settings.size() == 2);
    CHECK_THAT(inward.settings[1].test_pair_deg.value(), within_deg(90.0, 1e-9));
    CHECK(inward.settings[1].test_corner == 3);
}

TEST_CASE("square cuts have no hand, and butt joints no test pair", "[unit][cutlist]") {
    const Outline outline = regular_ring(4, 600.0);
    Project project = project_for(outline, {38.0});
    for (JointAsked& joint : project.joints) joint.kind = JointKind::butt;
    const CutList list = list_cuts(project, frame_of(project, outline));
    REQUIRE(list.settings.size() == 1);
    CHECK(list.settings[0].shown_deg == 0.0);
    CHECK(list.settings[0].count == 8);
    CHECK(list.settings[0].left + list.settings[0].right == 0);
    CHECK_FALSE(list.settings[0].test_pair_deg);
    CHECK(list.sections[0].test_pieces == 0);
}

TEST_CASE("settings join when no maker could set them apart", "[unit][cutlist]") {
    const Outline outline = outline_through({{0, 0}, {900, 0}}, false);
    Project project = project_for(outline, {38.0});
    project.tools.saw_step_deg = 0.5;
    project.tools.slope_by = SlopeBy::saw;
    const auto settings = [&](double first_deg, double last_deg) {
        project.first_end.saw_deg = first_deg;
        project.last_end.saw_deg = last_deg;
        return list_cuts(project, frame_of(project, outline)).settings.size();
    };
    CHECK(settings(22.4, 22.52) == 1);                // both shown 22.5, 0.12 apart
    CHECK(settings(22.4, 22.53) == 2);                // a quarter of a step and more apart
    CHECK(settings(22.24, 22.26) == 2);               // shown 22 and 22.5
    CHECK(settings(22.25 - 1e-9, 22.25 + 1e-9) == 1); // one angle but for rounding, whatever side of the line it falls on
    CHECK(settings(-30.0, 30.0) == 1);
    project.tools.slope_by = SlopeBy::bevel;          // told to a tenth
    CHECK(settings(22.46, 22.54) == 1);
    CHECK(settings(22.4, 22.52) == 2);
}

TEST_CASE("settings never join across a stop of the saw", "[unit][cutlist]") {
    const Outline outline = outline_through({{0, 0}, {900, 0}}, false);
    Project project = project_for(outline, {38.0});
    project.lie = Lie::on_edge;
    project.tools.tilt_limit_deg = project.tools.swing_limit_deg = 45.0;
    project.tools.fence_height_mm = 10.0;
    project.tools.saw_step_deg = 1.0;
    project.tools.slope_by = SlopeBy::saw;
    project.first_end.saw_deg = 44.99;
    project.last_end.saw_deg = 45.2;
    const std::vector<SettingGroup> settings = list_cuts(project, frame_of(project, outline)).settings;
    REQUIRE(settings.size() == 2);
    CHECK(settings[0].within_saw);
    CHECK_FALSE(settings[1].within_saw);
}

TEST_CASE("sections total finished and rough lengths, extras, spares and test pieces", "[unit][cutlist]") {
    OddHexagon planter;
    Project& project = planter.project;
    project.stock.resize(2);
    project.stock[0].width_mm = project.stock[1].width_mm = 145.0;
    project.stock[0].thickness_mm = 38.0;
    project.stock[1].thickness_mm = 28.0;
    for (std::size_t k = 0; k < 6; ++k) project.boards[k].stock = k == 3 ? 1 : 0;
    project.pieces.push_back({"foot", 0, 80.0, 6, 0.0, 15.0, "/pieces/0"});
    project.wanted.spares = 1;
    const CutList list = list_cuts(project, frame_of(project, planter.outline));

    REQUIRE(list.sections.size() == 2);
    const SectionTotal& thick = list.sections[0];
    const SectionTotal& thin = list.sections[1];
    CHECK(thick.stock == std::optional<std::size_t>{0});
    CHECK(thick.thickness_mm == 38.0);
    CHECK(thick.pieces == 2 * 5 + 6);
    CHECK(thin.pieces == 2);
    // Long points: 1, 2, 6: 413.383; 3, 5: 369.504 + 38 (tan 30 + tan 15.2953); 4: 369.504 + 2 * 28 tan 44.7047
    const double equal = 413.38279, beside = 369.50417 + 38.0 * (0.5773503 + 0.2734820), odd = 369.50417 + 56.0 * 0.9897433;
    CHECK_THAT(thick.finished_mm, within_mm(6 * equal + 4 * beside + 6 * 80.0, 0.001));
    CHECK_THAT(thin.finished_mm, within_mm(2 * odd, 0.001));
    // Saw cuts of 3 along 30 degrees: 3.4641; of the foot along 15: 3.1058. One spare of the commonest, 1.
    // Test pieces of the 38: two for the pair of 30, one each for 15 (the feet) and 15.2953; of the 28 one for 44.7047, which makes 120 with
    // the one of 15.2953. Each 100 + w tan S + the sloping saw cut + a square one.
    const double boards = 6 * (equal + 3.4641) + 4 * (beside + 3.4641) + 6 * (80.0 + 3.1058) + (equal + 3.4641);
    const double tests = 4 * 103.0 + 38.0 * (0.267949 + 0.273482 + 2 * 0.577350) + 3.1058 + 3.1102 + 2 * 3.4641;
    CHECK(thick.test_pieces == 4);
    CHECK(thin.test_pieces == 1);
    CHECK_THAT(thick.test_mm, within_mm(tests, 0.001));
    CHECK_THAT(thick.rough_mm, within_mm(boards + tests, 0.002));
    CHECK_THAT(thin.test_mm, within_mm(103.0 + 28.0 * 0.989743 + 3.0 * 1.406979, 0.001));
    CHECK_THAT(thick.longest_mm, within_mm(equal + 3.4641, 1e-3));

    REQUIRE(list.groups.size() == 4);
    CHECK(list.groups[3].extra == std::optional<std::size_t>{0});
    CHECK(list.groups[3].count == 6);
    CHECK(list.groups[3].members.empty());
    CHECK_THAT(list.groups[3].rough_length_mm, within_mm(83.1058, 1e-3));
    // The feet's slopes are cuts like any other: 6 square and 6 of 15, all at the right end.
    REQUIRE(list.settings.size() == 5);
    CHECK(list.settings[0].piece_cuts.size() == 1);
    CHECK(list.settings[0].count == 6);
    CHECK(list.settings[1].shown_deg == 15.0);
    CHECK(list.settings[1].right == 6);
    CHECK(list.settings[1].left == 0);
}

TEST_CASE("a setting's test pieces come from the section most of its cuts are made in", "[unit][cutlist]") {
    const Outline square = regular_ring(4, 800.0);
    Project project = project_for(square, {38.0});
    project.boards[0].width_mm = 100.0;  // one low board among 145: 2 cuts of 8
    const CutList list = list_cuts(project, frame_of(project, square));
    REQUIRE(list.sections.size() == 2);
    CHECK(list.sections[0].width_mm == 100.0);
    CHECK(list.sections[0].test_pieces == 0);
    CHECK(list.sections[0].test_mm == 0.0);
    CHECK(list.sections[1].test_pieces == 2);
}

TEST_CASE("boards given by size alone make sections of their own", "[unit][cutlist]") {
    const OddHexagon planter;
    const CutList list = list_cuts(planter.project, frame_of(planter.project, planter.outline));
    REQUIRE(list.sections.size() == 2);
    CHECK_FALSE(list.sections[0].stock);
    CHECK(list.sections[0].pieces == 10);
    CHECK(list.sections[1].thickness_mm == 28.0);
}

TEST_CASE("a hundred thousand boards fall into the kinds they were made of", "[unit][cutlist]") {
    // A frame by hand: the cut list asks for nothing but boards. 500 kinds, every piece at random turned and a little off by rounding.
    Random random(15);
    constexpr std::size_t kKinds = 500, kBoards = 100'000;
    struct Kind {
        double width, inside, first, second;
    };
    std::vector<Kind> kinds;
    for (std::size_t i = 0; i < kKinds; ++i) {
        kinds.push_back({random.between(20.0, 60.0), random.between(300.0, 2000.0), random.between(1.0, 40.0), random.between(1.0, 40.0)});
    }
    Project project;
    project.lie = Lie::on_edge;
    Frame frame;
    std::vector<std::size_t> kind_of;
    for (std::size_t k = 0; k < kBoards; ++k) {
        kind_of.push_back(random.index(kKinds));
        const Kind& kind = kinds[kind_of.back()];
        const bool upside_down = random.chance(0.5);
        const double first = upside_down ? kind.second : kind.first;
        const double second = upside_down ? kind.first : kind.second;
        const double start = random.between(-200.0, 200.0);
        Board board;
        board.width_mm = kind.width;
        board.height_mm = 145.0;
        board.ends[0] = {k, k, start, start - kind.width * std::tan(radians(first)), 0.0, first, 0.0, 0.0, 0.0, false, std::nullopt};
        const double end = start + kind.inside;
        board.ends[1] = {k + 1, k, end, end + kind.width * std::tan(radians(second)), 0.0, second, 0.0, 0.0, 0.0, false, std::nullopt};
        frame.boards.push_back(board);
        project.boards.push_back({std::nullopt, 145.0, kind.width, ""});
    }
    const CutList list = list_cuts(project, frame);
    CHECK(list.groups.size() == kKinds);
    CHECK(list.sections.size() == kKinds);
    std::size_t members = 0;
    for (const PieceGroup& group : list.groups) {
        members += group.members.size();
        const std::size_t kind = kind_of[group.members.front().board];
        for (const GroupMember& member : group.members) REQUIRE(kind_of[member.board] == kind);
    }
    CHECK(members == kBoards);
}
