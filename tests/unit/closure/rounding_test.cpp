#include "closure/rounding.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/angle.hpp"
#include "base/length_text.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

struct Built {
    Project project;
    Frame frame;
    std::vector<AlikeBoard> alike;
};

Built regular(std::size_t n, double side_mm, double width_mm, SlopeBy slope_by) {
    const Outline outline = regular_ring(n, side_mm);
    Built built{project_for(outline, {width_mm}), {}, std::vector<AlikeBoard>(n)};
    built.project.tools.slope_by = slope_by;
    built.frame = build_frame(built.project, outline).value();
    return built;
}

}  // namespace

TEST_CASE("seven sides on a saw with half-degree clicks: all lefts one click, all rights the next") {
    const Built built = regular(7, 300.0, 38.0, SlopeBy::saw);
    const ClosingRounding rounding = round_to_close(built.project, built.frame, built.alike);
    // 25.714 twice a corner is 51.429; 25.5 and 26 make 51.5, half a degree too much all round, not three too little.
    CHECK(rounding.applied);
    const Frame set = frame_as_set(built.project, built.frame, rounding);
    for (const Board& board : set.boards) {
        const double left = board.ends[0].saw_deg, right = board.ends[1].saw_deg;
        CHECK_THAT(std::min(left, right), within_mm(25.5, 1e-9));
        CHECK_THAT(std::max(left, right), within_mm(26.0, 1e-9));
        CHECK(left == set.boards.front().ends[0].saw_deg);
    }
    CHECK(rounding.value_mm < 0.25 * rounding.before_mm);
    CHECK(rounding.spread_after_mm < 0.3 * rounding.spread_before_mm);
    CHECK_THAT(close_frame(built.project, built.frame, rounding.nudges).set.stiff->last.angle_left_deg, within_mm(-0.5, 1e-9));
}

TEST_CASE("on wide boards one click more at one side would leave a lip over half a step, so the nearest stay") {
    const Built built = regular(7, 300.0, 90.0, SlopeBy::saw);
    const ClosingRounding rounding = round_to_close(built.project, built.frame, built.alike);
    for (const BoardNudges& nudges : rounding.nudges) CHECK(nudges.ends[0].slope == 0);
}

TEST_CASE("pieces that are the same stay the same; singly each goes its own way") {
    Built built = regular(6, 369.504, 38.0, SlopeBy::marks);
    built.project.wanted.gap_mm = 0.5;
    const ClosingRounding alike = round_to_close(built.project, built.frame, built.alike);
    CHECK(alike.choices == 3);
    for (const BoardNudges& nudges : alike.nudges) CHECK(nudges == alike.nudges.front());
    built.project.tools.rounding = Rounding::singly;
    const ClosingRounding singly = round_to_close(built.project, built.frame, built.alike);
    CHECK(singly.choices == 18);
    CHECK(singly.value_mm < alike.value_mm);
}

TEST_CASE("where it does not matter every number keeps its nearest step, and the values say so") {
    Built built = regular(6, 369.504, 38.0, SlopeBy::bevel);
    built.project.wanted.gap_mm = 5.0;
    const ClosingRounding rounding = round_to_close(built.project, built.frame, built.alike);
    CHECK_FALSE(rounding.matters);
    CHECK_FALSE(rounding.applied);
    CHECK(rounding.before_mm < 5.0);
    CHECK(rounding.spread_before_mm < 0.5);
    CHECK(rounding.value_mm <= rounding.before_mm);
    for (const BoardNudges& nudges : rounding.nudges) CHECK(nudges == BoardNudges{});
}

TEST_CASE("nearest is obeyed, and open chains have nothing to close") {
    Built built = regular(7, 300.0, 38.0, SlopeBy::saw);
    built.project.tools.rounding = Rounding::nearest;
    const ClosingRounding rounding = round_to_close(built.project, built.frame, built.alike);
    CHECK_FALSE(rounding.applied);
    CHECK(rounding.matters);
    CHECK(rounding.value_mm == rounding.before_mm);

    const Outline open = outline_through({{0, 0}, {500, 0}, {700, 300}}, false);
    const Project project = project_for(open, {38.0});
    const ClosingRounding none = round_to_close(project, build_frame(project, open).value(), {});
    CHECK_FALSE(none.applied);
    CHECK(none.nudges.size() == 2);
}

TEST_CASE("what is set out stands on the steps: marks on the rule, slopes on the saw's scale, rises on the rule") {
    for (const SlopeBy slope_by : {SlopeBy::marks, SlopeBy::saw, SlopeBy::bevel}) {
        Built built = regular(7, 287.2, 26.0, slope_by);
        built.project.wanted.gap_mm = 0.01;
        built.project.tools.rounding = Rounding::singly;
        const ClosingRounding rounding = round_to_close(built.project, built.frame, built.alike);
        REQUIRE(rounding.applied);
        const Frame set = frame_as_set(built.project, built.frame, rounding);
        const auto on_step = [](double value, double step) { return std::abs(value - rounded_to_step(value, step)) < 1e-9; };
        for (const Board& board : set.boards) {
            const double datum = board.ends[0].outside_mm;
            CHECK(on_step(board.ends[1].outside_mm - datum, 0.5));
            for (const BoardEnd& end : board.ends) {
                if (slope_by == SlopeBy::marks) CHECK(on_step(end.inside_mm - datum, 0.5));
                if (slope_by == SlopeBy::saw) CHECK(on_step(end.saw_deg, 0.5));
                if (slope_by == SlopeBy::bevel) CHECK(on_step(300.0 * end.run_mm / board.width_mm, 0.5));
            }
        }
    }
}

TEST_CASE("a thousand boards of one piece, and thousands that differ, are rounded in one go") {
    const Built built = regular(1000, 20.0, 20.0, SlopeBy::marks);
    CHECK(round_to_close(built.project, built.frame, built.alike).choices <= 3);

    std::vector<Vec2> points;
    for (int k = 0; k < 2000; ++k) points.push_back((5000.0 + 3.0 * std::sin(k * 0.7)) * unit_deg(0.18 * k));
    const Outline outline = outline_through(points);
    Project project = project_for(outline, {9.0});
    project.tools.slope_by = SlopeBy::marks;
    const ClosingRounding many = round_to_close(project, build_frame(project, outline).value(), {});
    CHECK(many.choices == kMostChoices);
    CHECK_FALSE(many.exact);
    CHECK(many.value_mm <= many.before_mm);
}

TEST_CASE("a bevel is set once for one angle, whichever way the ends that it sets are cut") {
    // Sides in six directions 60 apart, one corner turned inward: seven cuts of 30 each way and one pair of -30, all by one rise of 173.2.
    // Long points fall between the steps, so each of the eight lengths is a choice too.
    const std::vector<double> heading{0, 60, 120, 60, 120, 180, 240, 300}, length_mm{390, 300, 200, 250, 220, 310, 630, 340};
    std::vector<Vec2> corners;
    Vec2 at;
    for (std::size_t k = 0; k < heading.size(); ++k) {
        corners.push_back(at);
        at = at + length_mm[k] * unit_deg(heading[k]);
    }
    REQUIRE(length(at) < 1e-9);
    const Outline outline = outline_through(corners);
    Project project = project_for(outline, {38.0});
    project.tools.slope_by = SlopeBy::bevel;
    project.tools.rounding = Rounding::singly;
    const Frame frame = build_frame(project, outline).value();
    std::size_t inward = 0;
    for (const Board& board : frame.boards) {
        for (const BoardEnd& end : board.ends) {
            CHECK_THAT(std::abs(end.saw_deg), within_deg(30.0, 1e-9));
            inward += end.saw_deg < 0.0 ? 1U : 0U;
        }
    }
    CHECK(inward == 2);
    const ClosingRounding rounding = round_to_close(project, frame, std::vector<AlikeBoard>{});
    CHECK(rounding.choices == 1 + 8);
}
