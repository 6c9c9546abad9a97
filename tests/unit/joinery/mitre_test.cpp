#include "joinery/mitre.hpp"

#include <array>
#include <cmath>
#include <limits>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

constexpr double kEps = std::numeric_limits<double>::epsilon();

JointCuts cuts(double turn_deg, BoardInPlan before, BoardInPlan after) {
    const Result<JointCuts> made = mitre(turn_deg, before, after);
    REQUIRE(made.ok());
    return made.value();
}

}  // namespace

TEST_CASE("equal boards at a hexagon's corner take half the turn each", "[unit][mitre]") {
    const JointCuts joint = cuts(60.0, {0.0, 38.0}, {0.0, 38.0});
    // By hand: 38 tan 30 = 21.939, 38 / cos 30 = 43.879.
    for (const EndCut& end : {joint.before, joint.after}) {
        CHECK(end.saw_deg == 30.0);
        CHECK(end.inside_mm == 0.0);
        CHECK_THAT(end.outside_mm, within_mm(-21.939310, 1e-6));
        CHECK_THAT(end.run_mm, within_mm(21.939310, 1e-6));
        CHECK_THAT(end.face_mm, within_mm(43.878620, 1e-6));
        CHECK_FALSE(end.lap.has_value());
    }
}

TEST_CASE("the hand method at 108 degrees, a 90 board beside a 45 board", "[unit][mitre]") {
    const JointCuts joint = cuts(72.0, {0.0, 90.0}, {0.0, 45.0});
    CHECK_THAT(joint.before.square_first_mm, within_mm(29.243, 5e-4));
    CHECK_THAT(joint.before.square_second_mm, within_mm(47.316, 5e-4));
    CHECK_THAT(joint.after.square_first_mm, within_mm(14.621, 5e-4));
    CHECK_THAT(joint.after.square_second_mm, within_mm(94.632, 5e-4));
    CHECK_THAT(joint.before.saw_deg, within_deg(11.355, 5e-4));
    CHECK_THAT(joint.after.saw_deg, within_deg(60.645, 5e-4));
    CHECK_THAT(joint.before.run_mm, within_mm(18.073, 1e-3));
    CHECK_THAT(joint.after.run_mm, within_mm(80.011, 1e-3));
}

TEST_CASE("an inward corner has the long side inside", "[unit][mitre]") {
    const JointCuts joint = cuts(-90.0, {0.0, 38.0}, {0.0, 38.0});
    CHECK(joint.before.saw_deg == -45.0);
    CHECK(joint.after.saw_deg == -45.0);
    CHECK_THAT(joint.after.run_mm, within_mm(-38.0, 1e-12));
    CHECK_THAT(joint.after.outside_mm, within_mm(38.0, 1e-12));
    CHECK(joint.after.square_second_mm < 0.0);
}
