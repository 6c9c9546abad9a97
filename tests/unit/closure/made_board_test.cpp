#include "closure/made_board.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "base/angle.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

BoardEnd end_of(double inside_mm, double outside_mm, std::size_t e, double width_mm) {
    BoardEnd end;
    end.inside_mm = inside_mm;
    end.outside_mm = outside_mm;
    end.run_mm = (e == 0 ? -1.0 : 1.0) * (outside_mm - inside_mm);
    end.saw_deg = degrees(std::atan2(end.run_mm, width_mm));
    return end;
}

// 90 wide; the first end longer outside by 30.3, the second longer inside by 10.2. Long points at -30.3 and 500.1.
Board board() {
    Board b;
    b.width_mm = 90.0;
    b.ends[0] = end_of(0.0, -30.3, 0, 90.0);
    b.ends[1] = end_of(500.1, 489.9, 1, 90.0);
    return b;
}

Bench bench(double rule_step_mm) {
    Bench b;
    b.rule_step_mm = rule_step_mm;
    return b;
}

}  // namespace

TEST_CASE("marks are rounded from the datum, the leftmost mark, which stays where it is") {
    const MadeBoard made = marked_board(board(), bench(0.5));
    // From the datum at -30.3 the marks read 0, 30.3, 530.4, 520.2: 0, 30.5, 530.5, 520.
    CHECK_THAT(made.ends[0].outside_mm, within_mm(-30.3, 1e-12));
    CHECK_THAT(made.ends[0].inside_mm, within_mm(0.2, 1e-12));
    CHECK_THAT(made.ends[1].inside_mm, within_mm(500.2, 1e-12));
    CHECK_THAT(made.ends[1].outside_mm, within_mm(489.7, 1e-12));
    CHECK_THAT(made.ends[0].run_mm, within_mm(30.5, 1e-12));
    CHECK_THAT(made.ends[1].run_mm, within_mm(-10.5, 1e-12));
}

TEST_CASE("with clockwise letters the second end lies at the left and is the datum") {
    Bench b = bench(0.5);
    b.second_end_left = true;
    const MadeBoard made = marked_board(board(), b);
    // From 500.1 to the left: 0, 10.2, 500.1, 530.4: 0, 10, 500, 530.5.
    CHECK_THAT(made.ends[1].inside_mm, within_mm(500.1, 1e-12));
    CHECK_THAT(made.ends[1].outside_mm, within_mm(490.1, 1e-12));
    CHECK_THAT(made.ends[0].inside_mm, within_mm(0.1, 1e-12));
    CHECK_THAT(made.ends[0].outside_mm, within_mm(-30.4, 1e-12));
}

TEST_CASE("equal boards round alike though their marks differ in the last digits, even on a half step") {
    Board plain = board();
    plain.ends[0] = end_of(0.0, -20.25, 0, 90.0);
    Board shaken = plain;
    shaken.ends[0].inside_mm -= 3e-13;
    const MadeBoard a = marked_board(plain, bench(0.5));
    const MadeBoard b = marked_board(shaken, bench(0.5));
    CHECK_THAT(a.ends[0].inside_mm, within_mm(0.25, 1e-12));
    CHECK_THAT(b.ends[0].inside_mm, within_mm(0.25, 1e-12));
}

TEST_CASE("a bevel is set by a rise rounded to the rule over its base") {
    Bench b = bench(1.0);
    b.slope_by = SlopeBy::bevel;
    b.bevel_base_mm = 300.0;
    const MadeBoard made = set_board(board(), b);
    // Rises 300 * 30.3 / 90 = 101 and 300 * 10.2 / 90 = 34; long points 530.4 apart: 530.
    CHECK_THAT(made.ends[0].run_mm, within_mm(90.0 * 101.0 / 300.0, 1e-12));
    CHECK_THAT(made.ends[1].run_mm, within_mm(-90.0 * 34.0 / 300.0, 1e-12));
    CHECK_THAT(made.ends[0].outside_mm, within_mm(-30.3, 1e-12));
    CHECK_THAT(made.ends[0].inside_mm, within_mm(0.0, 1e-12));
    CHECK_THAT(made.ends[1].inside_mm, within_mm(499.7, 1e-12));
    CHECK_THAT(made.ends[1].outside_mm, within_mm(499.7 - 10.2, 1e-12));
    b.rule_step_mm = 5.0;  // rises 100 and 35, length 530
    const MadeBoard coarse = set_board(board(), b);
    CHECK_THAT(coarse.ends[0].inside_mm, within_mm(-0.3, 1e-12));
    CHECK_THAT(coarse.ends[1].outside_mm, within_mm(499.7 - 10.5, 1e-12));
}

TEST_CASE("a saw is set to its steps, long points stay and the short edge follows") {
    Bench b = bench(0.5);
    b.slope_by = SlopeBy::saw;
    b.saw_step_deg = 0.5;
    const MadeBoard made = set_board(board(), b);
    // atan(30.3 / 90) = 18.607 -> 18.5, atan(10.2 / 90) = 6.466 -> 6.5
    CHECK_THAT(made.ends[0].run_mm, within_mm(90.0 * tan_deg(18.5), 1e-12));
    CHECK_THAT(made.ends[1].run_mm, within_mm(-90.0 * tan_deg(6.5), 1e-12));
    CHECK_THAT(made.ends[0].outside_mm, within_mm(-30.3, 1e-12));
    CHECK_THAT(made.ends[0].inside_mm, within_mm(-30.3 + 90.0 * tan_deg(18.5), 1e-12));
    CHECK_THAT(made.ends[1].inside_mm, within_mm(500.2, 1e-12));
}

TEST_CASE("a scale that reads 90 at square is rounded where it is read") {
    Bench b;
    b.saw_step_deg = 4.0;
    CHECK_THAT(set_saw_deg(-21.0, b), within_deg(-20.0, 1e-12));
    b.scale_at_square_deg = 90.0;  // reads 69: 68
    CHECK_THAT(set_saw_deg(-21.0, b), within_deg(-22.0, 1e-12));
    CHECK_THAT(set_saw_deg(0.0, b), within_deg(2.0, 1e-12));  // such a saw cannot be set square: 90 is no multiple of 4
}

TEST_CASE("no rounding turns a cut along the board, and a setting that is exact keeps its digits") {
    Bench b;
    b.saw_step_deg = 0.5;
    CHECK_THAT(set_saw_deg(89.9, b), within_deg(89.5, 1e-12));
    CHECK_THAT(set_saw_deg(-89.9, b), within_deg(-89.5, 1e-12));
    CHECK(set_saw_deg(22.5 + 1e-13, b) == 22.5 + 1e-13);
}

TEST_CASE("slopes by marks are those of the marked board") {
    Bench b = bench(2.0);
    b.slope_by = SlopeBy::marks;
    const MadeBoard set = set_board(board(), b);
    const MadeBoard marked = marked_board(board(), b);
    for (std::size_t e = 0; e < 2; ++e) CHECK_THAT(set.ends[e].run_mm, within_mm(marked.ends[e].run_mm, 1e-12));
}

TEST_CASE("shoulders are marked from the datum and set with the slope of their end") {
    Board b = board();
    b.ends[0].lap = BoardLap{20.0, false, 45.2, 14.9};
    const MadeBoard marked = marked_board(b, bench(0.5));
    REQUIRE(marked.ends[0].shoulder);
    // From -30.3: 75.5 stays, 45.2 becomes 45.
    CHECK_THAT(marked.ends[0].shoulder->inside_mm, within_mm(45.2, 1e-12));
    CHECK_THAT(marked.ends[0].shoulder->outside_mm, within_mm(14.7, 1e-12));
    Bench by_saw = bench(0.5);
    by_saw.slope_by = SlopeBy::saw;
    const MadeBoard set = set_board(b, by_saw);
    CHECK_THAT(set.ends[0].shoulder->outside_mm, within_mm(14.7, 1e-12));
    CHECK_THAT(set.ends[0].shoulder->inside_mm, within_mm(14.7 + 90.0 * tan_deg(18.5), 1e-12));
    CHECK_THAT(set.ends[0].shoulder->run_mm, within_mm(90.0 * tan_deg(18.5), 1e-12));
}

TEST_CASE("a shoulder goes to its other step by its own nudge where a saw sets the slope, by its long mark's where marks do") {
    Board b = board();
    b.ends[0].lap = BoardLap{20.0, false, 45.2, 14.9};
    b.ends[1].lap = BoardLap{20.0, false, 455.1, 444.9};
    // The long shoulder mark is the outside one at the first end, 45.2 from the datum, and the inside one at the second, 485.4 from it.
    Bench by_saw = bench(0.5);
    by_saw.slope_by = SlopeBy::saw;
    BoardNudges nudges;
    nudges.ends[0].shoulder = 1;
    nudges.ends[1].shoulder = -1;
    nudges.ends[0].outside_shoulder = 5;  // of no meaning there
    const MadeBoard set = set_board(b, by_saw, nudges);
    CHECK_THAT(set.ends[0].shoulder->outside_mm, within_mm(-30.3 + 45.5, 1e-12));
    CHECK_THAT(set.ends[1].shoulder->inside_mm, within_mm(-30.3 + 485.0, 1e-12));
    Bench by_marks = bench(0.5);
    by_marks.slope_by = SlopeBy::marks;
    BoardNudges marked;
    marked.ends[0].outside_shoulder = 1;
    marked.ends[1].inside_shoulder = -1;
    marked.ends[0].shoulder = 5;
    const MadeBoard both = set_board(b, by_marks, marked);
    CHECK_THAT(both.ends[0].shoulder->outside_mm, within_mm(-30.3 + 45.5, 1e-12));
    CHECK_THAT(both.ends[1].shoulder->inside_mm, within_mm(-30.3 + 485.0, 1e-12));
}

TEST_CASE("roundings one by one name the mark and how far it moves, and leave out what stands on the step") {
    const std::vector<Deviation> marks = marked_deviations(board(), bench(0.5));
    REQUIRE(marks.size() == 3);  // the datum does not move
    CHECK(std::string(marks[0].what) == "inside mark");
    CHECK(marks[0].end == 0);
    CHECK_THAT(marks[0].moved, within_mm(0.2, 1e-12));
    CHECK_THAT(marks[0].made.inside_mm, within_mm(0.2, 1e-12));
    CHECK_THAT(marks[0].made.outside_mm, within_mm(-30.3, 1e-12));
    CHECK(std::string(marks[2].what) == "outside mark");
    CHECK(marks[2].end == 1);
    CHECK_THAT(marks[2].moved, within_mm(-0.2, 1e-12));

    Bench by_saw = bench(0.5);
    by_saw.slope_by = SlopeBy::saw;
    const std::vector<Deviation> settings = set_deviations(board(), by_saw);
    REQUIRE(settings.size() == 3);  // two slopes and the length
    CHECK(std::string(settings[0].what) == "slope");
    CHECK_THAT(settings[0].moved, within_deg(18.5 - degrees(std::atan(30.3 / 90.0)), 1e-9));
    CHECK(std::string(settings[2].what) == "length");
    CHECK(settings[2].end == 1);
    CHECK_THAT(settings[2].moved, within_mm(0.1, 1e-12));
    CHECK_THAT(settings[2].made.inside_mm, within_mm(500.2, 1e-12));
    CHECK_THAT(settings[2].made.run_mm, within_mm(-10.2, 1e-12));

    Bench by_bevel = bench(0.5);
    CHECK(set_deviations(board(), by_bevel).size() == 1);  // both rises, 101 and 34, stand on the step
    CHECK(marked_deviations(board(), bench(0.1)).empty());
}
