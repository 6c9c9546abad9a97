#include "plan/one_joint.hpp"

#include <limits>

#include "support/catch.hpp"

using namespace boardring;

TEST_CASE("one joint at 108 degrees, 90 beside 45, is the hand method's") {
    // School trigonometry by hand: 90 tan 18 = 29.243, 45 / cos 18 = 47.316, 45 tan 18 = 14.621, 90 / cos 18 = 94.632.
    const Result<JointCuts> cuts = cut_one_joint(JointKind::mitre, 108.0, {90.0, 45.0}, true);
    REQUIRE(cuts.ok());
    CHECK_THAT(cuts.value().before.square_first_mm, within_mm(29.243, 0.0005));
    CHECK_THAT(cuts.value().before.square_second_mm, within_mm(47.316, 0.0005));
    CHECK_THAT(cuts.value().after.square_first_mm, within_mm(14.621, 0.0005));
    CHECK_THAT(cuts.value().after.square_second_mm, within_mm(94.632, 0.0005));
    CHECK_THAT(cuts.value().before.saw_deg + cuts.value().after.saw_deg, within_deg(72.0, 1e-12));
}

TEST_CASE("the board that runs through a butt is the one that was named") {
    const JointCuts first = cut_one_joint(JointKind::butt, 90.0, {40.0, 30.0}, true).value();
    const JointCuts second = cut_one_joint(JointKind::butt, 90.0, {40.0, 30.0}, false).value();
    CHECK_THAT(first.before.outside_mm, within_mm(-30.0, 1e-12));  // past the corner by the other's width
    CHECK_THAT(first.after.inside_mm, within_mm(0.0, 1e-12));
    CHECK_THAT(second.before.inside_mm, within_mm(0.0, 1e-12));
    CHECK_THAT(second.after.outside_mm, within_mm(-40.0, 1e-12));
}

TEST_CASE("corners and widths that cannot be are findings, all of them") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const double corner : {0.0, 0.5, -20.0, 359.5, 360.0, 1e9, nan}) {
        const Result<JointCuts> cuts = cut_one_joint(JointKind::mitre, corner, {0.0, 45.0}, true);
        REQUIRE_FALSE(cuts.ok());
        REQUIRE(cuts.findings().size() == 2);
        CHECK(cuts.findings()[0].code == "joint.angle-out-of-range");
        CHECK(cuts.findings()[1].code == "joint.width-out-of-range");
    }
    CHECK(cut_one_joint(JointKind::mitre, 1.0, {40.0, 40.0}, true).ok());
    CHECK(cut_one_joint(JointKind::mitre, 359.0, {40.0, 40.0}, true).ok());
}
