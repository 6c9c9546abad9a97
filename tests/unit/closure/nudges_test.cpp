#include "closure/nudges.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include "base/angle.hpp"
#include "closure/closure.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"
#include "support/ring.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

struct Shape {
    double length_mm, run_left_mm, run_right_mm, width_mm;  // length: of the inside edge
};

BoardEnd end_of(double inside_mm, double run_mm, std::size_t e, double width_mm) {
    BoardEnd end;
    end.inside_mm = inside_mm;
    end.outside_mm = inside_mm + (e == 0 ? -run_mm : run_mm);
    end.run_mm = run_mm;
    end.saw_deg = degrees(std::atan2(run_mm, width_mm));
    return end;
}

Board board_of(const Shape& s, double at_mm) {
    Board b;
    b.width_mm = s.width_mm;
    b.ends[0] = end_of(at_mm, s.run_left_mm, 0, s.width_mm);
    b.ends[1] = end_of(at_mm + s.length_mm, s.run_right_mm, 1, s.width_mm);
    return b;
}

// The same piece turned, laid somewhere else. Swapped edges: what was outside is inside.
Shape turned_shape(Shape s, const PieceTurn& turn) {
    if (turn.ends_swapped) std::swap(s.run_left_mm, s.run_right_mm);
    if (turn.edges_swapped) {
        s.length_mm += s.run_left_mm + s.run_right_mm;
        s.run_left_mm = -s.run_left_mm;
        s.run_right_mm = -s.run_right_mm;
    }
    return s;
}

// What a piece is, however it lies: both edges and both runs.
std::array<double, 4> measured(const MadeBoard& made, const PieceTurn& turn) {
    double inside = made.ends[1].inside_mm - made.ends[0].inside_mm, outside = made.ends[1].outside_mm - made.ends[0].outside_mm;
    double left = made.ends[0].run_mm, right = made.ends[1].run_mm;
    if (turn.ends_swapped) std::swap(left, right);
    if (turn.edges_swapped) {
        std::swap(inside, outside);
        left = -left;
        right = -right;
    }
    return {inside, outside, left, right};
}

}  // namespace

TEST_CASE("a piece rounded any way and the same piece turned are the same piece still") {
    Random random(3);
    int tried = 0;
    for (int i = 0; i < 3000; ++i) {
        Bench bench;
        bench.slope_by = std::array{SlopeBy::bevel, SlopeBy::marks, SlopeBy::saw}[random.index(3)];
        bench.rule_step_mm = random.chance(0.5) ? 0.5 : 25.4 / 16.0;
        bench.second_end_left = random.chance(0.5);
        const Shape shape{random.between(200, 900), random.between(-60, 60), random.between(-60, 60), random.between(20, 120)};
        const PieceTurn turn{random.chance(0.5), random.chance(0.5)};
        const Board first = board_of(shape, random.between(-50, 50));
        const Board other = board_of(turned_shape(shape, turn), random.between(-50, 50));
        BoardNudges nudges;
        for (const RoundedNumber& number : rounded_numbers(first, bench)) {
            if (random.chance(0.5)) nudge_of(nudges, number) = number.other_way;
        }
        const BoardNudges like = nudges_like(first, nudges, other, turn, bench);
        const auto make = bench.slope_by == SlopeBy::marks ? marked_board : set_board;
        const auto a = measured(make(first, bench, nudges), {}), b = measured(make(other, bench, like), turn);
        for (std::size_t m = 0; m < 4; ++m) CHECK_THAT(b[m], within_mm(a[m], 1e-9));
        ++tried;
    }
    CHECK(tried == 3000);
}

TEST_CASE("the other way is the step on the other side: exact lies between the two") {
    Random random(4);
    for (int i = 0; i < 500; ++i) {
        Bench bench;
        bench.slope_by = std::array{SlopeBy::bevel, SlopeBy::marks, SlopeBy::saw}[random.index(3)];
        bench.scale_at_square_deg = random.chance(0.5) ? 90.0 : 0.0;
        bench.second_end_left = i % 2 == 1;
        const Board board = board_of({random.between(200, 900), random.between(-60, 60), random.between(-60, 60), 60.0}, 0.0);
        for (const RoundedNumber& number : rounded_numbers(board, bench)) {
            CHECK(number.nearest_mm * number.other_mm < 0.0);
            const bool slope_of_saw = number.what == RoundedNumber::What::slope && bench.slope_by == SlopeBy::saw;
            if (!slope_of_saw) CHECK(std::abs(number.nearest_mm) <= std::abs(number.other_mm) + 1e-9);
            CHECK(std::abs(number.other_way) == 1);
            // The length is measured from the left end, so it is a number of the other one.
            if (number.what == RoundedNumber::What::length) CHECK(number.end == (bench.second_end_left ? 0U : 1U));
        }
    }
}

TEST_CASE("numbers on their step have no other way, nor has a square cut towards less than square") {
    Bench bench;
    bench.slope_by = SlopeBy::saw;
    CHECK(rounded_numbers(board_of({500.0, 0.0, 0.0, 60.0}, 0.0), bench).empty());
    // 0.1 degrees from square: nearest 0, the other way 0.5.
    const auto numbers = rounded_numbers(board_of({500.0, 60.0 * tan_deg(0.1), 0.0, 60.0}, 0.0), bench);
    REQUIRE(numbers.size() == 2);  // slope, and the length that goes with it
    CHECK(numbers.front().what == RoundedNumber::What::slope);
    CHECK(numbers.front().other_way == 1);
}

TEST_CASE("of a half-lapped board just those numbers are rounded that move a joint: its ends hinder nothing") {
    const Outline outline = boardring_test::outline_through({{0, 0}, {900.3, 0}, {1003.1, 501.7}, {497.9, 903.3}, {-101.2, 448.8}});
    Project project = boardring_test::project_for(outline, {38.0, 38.0, 28.0});
    for (JointAsked& joint : project.joints) joint.kind = JointKind::half_lap;
    const Frame frame = build_frame(project, outline).value();
    for (const SlopeBy slope_by : {SlopeBy::saw, SlopeBy::bevel, SlopeBy::marks}) {
        Bench bench;
        bench.slope_by = slope_by;
        bench.rule_step_mm = 0.5;
        const auto make = slope_by == SlopeBy::marks ? marked_board : set_board;
        for (std::size_t k = 0; k < frame.boards.size(); ++k) {
            const std::vector<RoundedNumber> numbers = rounded_numbers(frame.boards[k], bench);
            CHECK(numbers.size() == 4);  // a slope and a shoulder, or two shoulder marks, at each end
            for (const RoundedNumber& number : numbers) {
                CAPTURE(static_cast<int>(slope_by), k, static_cast<int>(number.what), number.end);
                std::vector<MadeBoard> nearest = exact_boards(frame), other = nearest;
                BoardNudges nudges;
                nudge_of(nudges, number) = number.other_way;
                nearest[k] = make(frame.boards[k], bench, {});
                other[k] = make(frame.boards[k], bench, nudges);
                const JointMisfit a = stiff_at(frame, nearest, 0), b = stiff_at(frame, other, 0);
                const double moved = std::abs(a.gap_in_mm - b.gap_in_mm) + std::abs(a.gap_out_mm - b.gap_out_mm) + std::abs(a.lip_in_mm - b.lip_in_mm);
                CHECK(moved > 1e-3);
            }
        }
    }
}
