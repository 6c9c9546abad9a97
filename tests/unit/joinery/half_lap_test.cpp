#include "joinery/half_lap.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/exact_crossing.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::exact_crossing;
using boardring_test::exact_sin_deg;
using boardring_test::Random;

namespace {

constexpr double kEps = std::numeric_limits<double>::epsilon();

JointCuts cuts(double turn_deg, BoardInPlan before, BoardInPlan after) {
    const Result<JointCuts> made = half_lap(turn_deg, before, after);
    REQUIRE(made.ok());
    return made.value();
}

}  // namespace

TEST_CASE("square half-laps are as long as the other board is wide", "[unit][half-lap]") {
    const JointCuts joint = cuts(90.0, {0.0, 60.0}, {0.0, 45.0});
    REQUIRE(joint.before.lap.has_value());
    REQUIRE(joint.after.lap.has_value());
    CHECK_THAT(joint.before.inside_mm, within_mm(-45.0, 1e-12));
    CHECK_THAT(joint.before.outside_mm, within_mm(-45.0, 1e-12));
    CHECK_THAT(joint.before.lap->shoulder_inside_mm, within_mm(0.0, 1e-12));
    CHECK_THAT(joint.before.lap->shoulder_outside_mm, within_mm(0.0, 1e-12));
    CHECK_THAT(joint.after.inside_mm, within_mm(-60.0, 1e-12));
    CHECK(joint.before.saw_deg == 0.0);
}

TEST_CASE("at an inward corner half-laps end on the inside line and the shoulder lies on the outside line", "[unit][half-lap]") {
    const JointCuts joint = cuts(-90.0, {0.0, 60.0}, {0.0, 45.0});
    CHECK_THAT(joint.before.outside_mm, within_mm(0.0, 1e-12));
    CHECK_THAT(joint.before.lap->shoulder_outside_mm, within_mm(45.0, 1e-12));
}

TEST_CASE("end and shoulder are parallel to the other board and its width over sine apart", "[unit][half-lap]") {
    Random random(31);
    for (int i = 0; i < 20000; ++i) {
        const double turn = (random.chance(0.5) ? 1.0 : -1.0) * random.between(1.0, 165.0);
        const BoardInPlan before{random.between(-50.0, 50.0), random.log_between(5.0, 250.0)};
        const BoardInPlan after{random.between(-50.0, 50.0), before.width_mm * random.log_between(0.2, 5.0)};
        const EndCut end = cuts(turn, before, after).before;
        const double apart = after.width_mm / std::abs(sin_deg(turn));
        const double bound = 1e-12 * 1600.0 / std::abs(sin_deg(turn));
        CHECK_THAT(end.lap->shoulder_inside_mm - end.inside_mm, within_mm(apart, bound));
        CHECK_THAT(end.lap->shoulder_outside_mm - end.outside_mm, within_mm(apart, bound));
        CHECK_THAT(end.lap->shoulder_inside_mm - end.lap->shoulder_outside_mm, within_mm(end.run_mm, bound));
        CHECK(end.saw_deg == (turn > 0.0 ? turn - 90.0 : turn + 90.0));
        CHECK(end.square_second_mm == 0.0);
    }
}

TEST_CASE("shoulders keep the stated digits", "[unit][half-lap]") {
    Random random(32);
    double worst = 0.0;
    for (int i = 0; i < 200000; ++i) {
        const double turn = (random.chance(0.5) ? 1.0 : -1.0) * random.log_between(kStraightTurnDeg, 179.9999);
        const BoardInPlan before{random.between(-100.0, 100.0), random.log_between(5.0, 250.0)};
        const BoardInPlan after{random.between(-100.0, 100.0), random.log_between(5.0, 250.0)};
        const EndCut end = half_lap(turn, before, after).value().before;
        const double near = turn > 0.0 ? after.offset_mm : after.offset_mm + after.width_mm;
        const auto exact = static_cast<double>(exact_crossing(before.offset_mm, near, turn));
        const auto sine = static_cast<double>(std::abs(exact_sin_deg(turn)));
        worst = std::max(worst, std::abs(end.lap->shoulder_inside_mm - exact) /
                                    (4.0 * kEps * (std::abs(before.offset_mm) + std::abs(near)) / sine));
    }
    INFO("worst " << worst << " of the bound");
    CHECK(worst <= 1.0);
}

TEST_CASE("boards in one line cannot be lapped", "[unit][half-lap]") {
    const Result<JointCuts> made = half_lap(-5e-7, {0.0, 38.0}, {0.0, 38.0});
    REQUIRE_FALSE(made.ok());
    CHECK(made.findings().front().code == "joint.straight-overlap");
}
