#include "joinery/butt.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/angle.hpp"
#include "joinery/cut_along.hpp"
#include "joinery/mitre.hpp"
#include "support/catch.hpp"
#include "support/exact_crossing.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::exact_crossing;
using boardring_test::exact_sin_deg;
using boardring_test::Random;

namespace {

constexpr double kEps = std::numeric_limits<double>::epsilon();

JointCuts cuts(double turn_deg, BoardInPlan before, BoardInPlan after, bool before_runs_through) {
    const Result<JointCuts> made = butt(turn_deg, before, after, before_runs_through);
    REQUIRE(made.ok());
    return made.value();
}

}  // namespace

TEST_CASE("at a square corner the through board reaches over the other's whole width", "[unit][butt]") {
    const JointCuts joint = cuts(90.0, {0.0, 38.0}, {0.0, 28.0}, true);
    CHECK_THAT(joint.before.inside_mm, within_mm(-28.0, 1e-12));
    CHECK_THAT(joint.before.outside_mm, within_mm(-28.0, 1e-12));
    CHECK(joint.before.saw_deg == 0.0);
    CHECK(joint.before.run_mm == 0.0);
    CHECK_THAT(joint.after.inside_mm, within_mm(0.0, 1e-12));
    CHECK_THAT(joint.after.outside_mm, within_mm(0.0, 1e-12));
    CHECK(joint.after.face_mm == 28.0);
}

TEST_CASE("the board that starts here can be the one that runs through", "[unit][butt]") {
    const JointCuts joint = cuts(90.0, {0.0, 38.0}, {0.0, 28.0}, false);
    CHECK_THAT(joint.after.outside_mm, within_mm(-38.0, 1e-12));
    CHECK_THAT(joint.before.outside_mm, within_mm(0.0, 1e-12));
}

TEST_CASE("at an inward square corner the through board runs to the other's inside line", "[unit][butt]") {
    // Inward: the wood lies on the far side of the corner from the ring's middle; board 2's near line is its outside line.
    const JointCuts joint = cuts(-90.0, {0.0, 38.0}, {0.0, 28.0}, true);
    CHECK_THAT(joint.before.inside_mm, within_mm(0.0, 1e-12));
    CHECK_THAT(joint.before.outside_mm, within_mm(0.0, 1e-12));
    CHECK_THAT(joint.after.inside_mm, within_mm(38.0, 1e-12));
    CHECK_THAT(joint.after.outside_mm, within_mm(38.0, 1e-12));
}

TEST_CASE("both cuts of a butt have the slope 90 - I, inward 270 - I", "[unit][butt]") {
    for (const double interior : {20.0, 60.0, 108.0, 120.0, 179.0, 181.0, 200.0, 270.0, 330.0}) {
        const JointCuts joint = cuts(180.0 - interior, {0.0, 38.0}, {0.0, 28.0}, true);
        const double wanted = interior < 180.0 ? 90.0 - interior : 270.0 - interior;
        CHECK_THAT(joint.before.saw_deg, within_deg(wanted, 0.0));
        CHECK_THAT(joint.after.saw_deg, within_deg(wanted, 0.0));
        CHECK_THAT(joint.before.run_mm, within_mm(38.0 * std::tan(radians(wanted)), 1e-10));
        CHECK_THAT(joint.before.inside_mm - joint.before.outside_mm, within_mm(joint.before.run_mm, 1e-10));
        CHECK(joint.before.square_second_mm == 0.0);
        CHECK(joint.before.square_first_mm == -joint.before.run_mm);
    }
}

TEST_CASE("a sharp corner makes the outside longer, a blunt one the inside", "[unit][butt]") {
    CHECK(cuts(120.0, {0.0, 38.0}, {0.0, 38.0}, true).before.saw_deg == 30.0);
    CHECK(cuts(60.0, {0.0, 38.0}, {0.0, 38.0}, true).before.saw_deg == -30.0);
}

TEST_CASE("the through board reaches further than with a mitre, inward corners too", "[unit][butt]") {
    Random random(21);
    for (int i = 0; i < 20000; ++i) {
        const double turn = (random.chance(0.5) ? 1.0 : -1.0) * random.between(1.0, 165.0);
        const BoardInPlan before{random.between(-50.0, 50.0), random.log_between(5.0, 250.0)};
        const BoardInPlan after{random.between(-50.0, 50.0), before.width_mm * random.log_between(0.2, 5.0)};
        const EndCut butted = cuts(turn, before, after, true).before;
        const EndCut mitred = mitre(turn, before, after).value().before;
        const double bound = 1e-12 * (300.0 + 1250.0) / std::abs(sin_deg(turn));
        const double inside = mitred.inside_mm - butted.inside_mm;
        const double outside = mitred.outside_mm - butted.outside_mm;
        CHECK(std::min(inside, outside) >= -bound);
        CHECK_THAT(std::max(inside, outside), within_mm(after.width_mm / std::abs(sin_deg(turn)), bound));
    }
}

TEST_CASE("boards in one line have nothing to butt against", "[unit][butt]") {
    const Result<JointCuts> made = butt(0.0, {0.0, 38.0}, {0.0, 38.0}, true);
    REQUIRE_FALSE(made.ok());
    CHECK(made.findings().front().code == "joint.straight-overlap");
    CHECK_THAT(made.findings().front().fix, ContainsSubstring("mitre"));
}

TEST_CASE("cuts along the other board keep the stated digits", "[unit][butt]") {
    Random random(22);
    double marks = 0.0;
    double runs = 0.0;
    double faces = 0.0;
    for (int i = 0; i < 200000; ++i) {
        const double turn = (random.chance(0.5) ? 1.0 : -1.0) * random.log_between(kStraightTurnDeg, 179.9999);
        const BoardInPlan own{random.between(-100.0, 100.0), random.log_between(5.0, 250.0)};
        const double along = random.between(-300.0, 300.0);
        const EndCut cut = cut_along(turn, own, along);
        const long double sine = std::abs(exact_sin_deg(turn));
        const double q = own.offset_mm + own.width_mm;
        const auto outside = static_cast<double>(exact_crossing(q, along, turn));
        marks = std::max(marks, std::abs(cut.outside_mm - outside) /
                                    (4.0 * kEps * (std::abs(q) + std::abs(along)) / static_cast<double>(sine)));
        const auto run = static_cast<double>(exact_crossing(own.width_mm, 0.0, turn));
        runs = std::max(runs, std::abs(cut.run_mm + run) / (4.0 * kEps * own.width_mm / static_cast<double>(sine)));
        const auto face = static_cast<double>(static_cast<long double>(own.width_mm) / sine);
        faces = std::max(faces, std::abs(cut.face_mm - face) / (4.0 * kEps * face));
    }
    CAPTURE(marks, runs, faces);
    for (const double worst : {marks, runs, faces}) CHECK(worst <= 1.0);
}
