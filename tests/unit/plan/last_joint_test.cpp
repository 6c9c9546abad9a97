#include "plan/last_joint.hpp"

#include <cmath>

#include "plan/plan.hpp"
#include "support/catch.hpp"
#include "unit/report/drawn_plans.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

LastJointStudy study_of(const Project& project) {
    TrialOptions options;
    options.runs = 20'000;
    const auto study = study_last_joint(make_plan(project), options);
    REQUIRE(study);
    return *study;
}

}  // namespace

TEST_CASE("first order and trials agree on a usual planter") {
    const LastJointStudy study = study_of(hexagon_planter());
    CHECK(study.agrees);
    CHECK(std::abs(study.first_order_off) < 0.03);
    CHECK_FALSE(study.first_order_off_half);
}

TEST_CASE("where they do not, errors half as large tell whether the size of the errors is the reason") {
    Project wild = hexagon_planter();
    wild.accuracy.cut_angle_deg = 10.0;
    wild.wanted.gap_mm = 20.0;
    const LastJointStudy study = study_of(wild);
    CHECK_FALSE(study.agrees);
    REQUIRE(study.first_order_off_half);
    // Second order: half the errors, about half of the difference.
    CHECK(std::abs(*study.first_order_off_half) < 0.75 * std::abs(study.first_order_off));
}

TEST_CASE("what the project says about the last board is used") {
    Project project = hexagon_planter();
    project.wanted.fit_last = 2;
    project.wanted.leave_long_mm = 0.0;
    const Plan plan = make_plan(project);
    REQUIRE(plan.budget);
    CHECK(plan.budget->leave_long.board == 2);
    CHECK(plan.budget->corner == 3);
    CHECK(plan.budget->leave_long.told_mm == 0.0);
    project.wanted.leave_long_mm = plan.budget->leave_long.long_mm;
    const Plan longer = make_plan(project);
    CHECK(longer.budget->leave_long.too_short < 0.0101);
    CHECK(longer.budget->leave_long.too_short < plan.budget->leave_long.too_short);
}
