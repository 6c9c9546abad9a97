#include "joinery/mitre.hpp"

#include <algorithm>
#include <array>
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
    const Result<JointCuts> made = mitre(turn_deg, before, after);
    REQUIRE(made.ok());
    return made.value();
}

// A turn of either sign, as near to straight or to folded back as the domain goes.
double random_turn(Random& random) {
    const double turn =
        random.chance(0.5) ? random.log_between(kStraightTurnDeg, 170.0) : 180.0 - random.log_between(1e-6, 170.0);
    return random.chance(0.5) ? turn : -turn;
}

}  // namespace

TEST_CASE("two lines cross where the textbook form says, to four roundings at any turn", "[unit][mitre]") {
    Random random(11);
    double worst = 0.0;
    for (int i = 0; i < 200000; ++i) {
        const double turn = random_turn(random);
        const double q = random.between(-200.0, 200.0);
        const double r = random.chance(0.3) ? q : random.between(-200.0, 200.0);
        const auto sine = static_cast<double>(std::abs(exact_sin_deg(turn)));
        const double error =
            static_cast<double>(std::abs(static_cast<long double>(line_crossing_mm(q, r, turn)) - exact_crossing(q, r, turn)));
        worst = std::max(worst, error / (4.0 * kEps * (std::abs(q) + std::abs(r)) / sine));
    }
    INFO("worst " << worst << " of the bound");
    CHECK(worst <= 1.0);
    CHECK(worst > 0.05);
}

TEST_CASE("a needle whose other line passes through the corner keeps to four roundings", "[unit][mitre]") {
    // Where (q - r) / sin T - q tan(T/2) came to 4.09 roundings, found by a search in 128-bit arithmetic; a form with two large terms.
    const double turn = 179.9423268906605, q = 1.0486875765992254;
    const auto bound = [](double of, double to, double at) { return 4.0 * kEps * (of + to) / static_cast<double>(std::abs(exact_sin_deg(at))); };
    CHECK_THAT(line_crossing_mm(q, 0.0, turn), within_mm(static_cast<double>(exact_crossing(q, 0.0, turn)), bound(q, 0.0, turn)));
    Random random(13);
    double worst = 0.0;
    for (int i = 0; i < 200000; ++i) {
        const double sharp = 180.0 - random.log_between(1e-9, 30.0);
        const double own = random.between(1.0, 2.0), other = random.chance(0.5) ? 0.0 : own * random.between(-1e-3, 1e-3);
        const long double error = std::abs(static_cast<long double>(line_crossing_mm(own, other, sharp)) - exact_crossing(own, other, sharp));
        worst = std::max(worst, static_cast<double>(error) / bound(own, std::abs(other), sharp));
    }
    INFO("worst " << worst << " of the bound");
    CHECK(worst <= 0.7);  // the form with two large terms comes to 0.9 here
}

TEST_CASE("equal offsets keep all their digits at nearly straight corners", "[unit][mitre]") {
    for (const double turn : {1e-6, -1e-5, 1e-3, -0.1, 1.0}) {
        const auto exact = static_cast<double>(exact_crossing(145.0, 145.0, turn));
        CHECK_THAT(line_crossing_mm(145.0, 145.0, turn), within_mm(exact, 4.0 * kEps * std::abs(exact)));
    }
}

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

TEST_CASE("the outside line as the outline puts the outside mark on the corner", "[unit][mitre]") {
    const JointCuts joint = cuts(60.0, {-38.0, 38.0}, {-38.0, 38.0});
    CHECK(joint.after.outside_mm == 0.0);
    CHECK_THAT(joint.after.inside_mm, within_mm(21.939310, 1e-6));
}

TEST_CASE("a margin moves both marks by the margin times tan T/2", "[unit][mitre]") {
    const JointCuts plain = cuts(60.0, {0.0, 38.0}, {0.0, 38.0});
    const JointCuts moved = cuts(60.0, {6.0, 38.0}, {6.0, 38.0});
    CHECK_THAT(moved.after.inside_mm - plain.after.inside_mm, within_mm(-6.0 * std::tan(kPi / 6.0), 1e-12));
    CHECK_THAT(moved.after.outside_mm - plain.after.outside_mm, within_mm(-6.0 * std::tan(kPi / 6.0), 1e-12));
}

TEST_CASE("at a square corner the widths change places", "[unit][mitre]") {
    const JointCuts joint = cuts(90.0, {0.0, 90.0}, {0.0, 45.0});
    CHECK_THAT(joint.before.run_mm, within_mm(45.0, 1e-12));
    CHECK_THAT(joint.after.run_mm, within_mm(90.0, 1e-12));
}

TEST_CASE("38 beside 19 at 120 degrees is a square cut on the 38", "[unit][mitre]") {
    const JointCuts joint = cuts(60.0, {0.0, 38.0}, {0.0, 19.0});
    CHECK_THAT(joint.before.saw_deg, within_deg(0.0, 1e-13));
    CHECK_THAT(joint.before.run_mm, within_mm(0.0, 1e-13));
    CHECK_THAT(joint.after.saw_deg, within_deg(60.0, 1e-13));
}

TEST_CASE("a board thinner than w cos T undercuts its mate", "[unit][mitre]") {
    // 38 beside 18 at 120 degrees: S = -1.7 and 61.7, worked out by hand as (18/38 - cos 60) / sin 60.
    const JointCuts joint = cuts(60.0, {0.0, 38.0}, {0.0, 18.0});
    CHECK_THAT(joint.before.saw_deg, within_deg(-1.7405, 5e-4));
    CHECK_THAT(joint.after.saw_deg, within_deg(61.7405, 5e-4));
    CHECK(joint.before.run_mm < 0.0);
}

TEST_CASE("an inward corner has the long side inside and counts the second step the other way", "[unit][mitre]") {
    const JointCuts joint = cuts(-90.0, {0.0, 38.0}, {0.0, 38.0});
    for (const EndCut& end : {joint.before, joint.after}) {
        CHECK(end.saw_deg == -45.0);
        CHECK_THAT(end.run_mm, within_mm(-38.0, 1e-12));
        CHECK_THAT(end.inside_mm, within_mm(0.0, 0.0));
        CHECK_THAT(end.outside_mm, within_mm(38.0, 1e-12));
        CHECK_THAT(end.square_second_mm, within_mm(-38.0, 1e-12));
    }
}

TEST_CASE("equal boards in one line get square ends", "[unit][mitre]") {
    const JointCuts joint = cuts(0.0, {6.0, 38.0}, {6.0, 38.0});
    for (const EndCut& end : {joint.before, joint.after}) {
        CHECK(end.inside_mm == 0.0);
        CHECK_FALSE(std::signbit(end.inside_mm));
        CHECK(end.outside_mm == 0.0);
        CHECK_FALSE(std::signbit(end.outside_mm));
        CHECK(end.saw_deg == 0.0);
        CHECK(end.face_mm == 38.0);
        CHECK(end.square_first_mm == 0.0);
        CHECK(end.square_second_mm == 0.0);
    }
}

TEST_CASE("nothing jumps where straight begins", "[unit][mitre]") {
    const JointCuts below = cuts(0.999e-6, {6.0, 38.0}, {6.0, 38.0});
    const JointCuts above = cuts(1.001e-6, {6.0, 38.0}, {6.0, 38.0});
    CHECK_THAT(below.after.outside_mm, within_mm(above.after.outside_mm, 1e-9));
    CHECK_THAT(below.after.saw_deg, within_deg(above.after.saw_deg, 1e-8));
}

TEST_CASE("unequal boards in one line have no mitre", "[unit][mitre]") {
    for (const BoardInPlan after : {BoardInPlan{0.0, 28.0}, BoardInPlan{6.0, 38.0}}) {
        const Result<JointCuts> made = mitre(1e-7, {0.0, 38.0}, after);
        REQUIRE_FALSE(made.ok());
        REQUIRE(made.findings().size() == 1);
        CHECK(made.findings().front().code == "joint.straight-unequal");
        CHECK(made.findings().front().pointer.empty());
        CHECK_FALSE(made.findings().front().fix.empty());
    }
}

TEST_CASE("widths and turns outside the domain are our bug", "[unit][mitre]") {
    CHECK_THROWS_AS(mitre(180.0, {0.0, 38.0}, {0.0, 38.0}), BrokenInvariant);
    CHECK_THROWS_AS(mitre(60.0, {0.0, 0.0}, {0.0, 38.0}), BrokenInvariant);
    CHECK_THROWS_AS(line_crossing_mm(1.0, 1.0, 0.0), BrokenInvariant);
}

TEST_CASE("slopes add up to the turn and both faces are equal, to the stated bounds", "[unit][mitre]") {
    Random random(12);
    double sums = 0.0;
    double marks = 0.0;
    double runs = 0.0;
    double faces = 0.0;
    double slopes = 0.0;
    for (int i = 0; i < 200000; ++i) {
        const double turn = random_turn(random);
        const BoardInPlan before{random.between(-100.0, 100.0), random.log_between(5.0, 250.0)};
        const BoardInPlan after{random.between(-100.0, 100.0), before.width_mm * random.log_between(0.2, 5.0)};
        const Result<JointCuts> made = mitre(turn, before, after);
        const JointCuts& joint = made.value();
        const auto sine = static_cast<double>(std::abs(exact_sin_deg(turn)));
        sums = std::max(sums, std::abs(joint.before.saw_deg + joint.after.saw_deg - turn) / (2.0 * kEps * 90.0));
        const double q = before.offset_mm + before.width_mm;
        const double r = after.offset_mm + after.width_mm;
        const auto outside = static_cast<double>(exact_crossing(q, r, turn));
        // The offsets are summed in double: half a rounding each more.
        marks = std::max(marks, std::abs(joint.before.outside_mm - outside) / (4.0 * kEps * (std::abs(q) + std::abs(r)) / sine));
        const long double run = -exact_crossing(before.width_mm, after.width_mm, turn);
        runs = std::max(runs, static_cast<double>(std::abs(static_cast<long double>(joint.before.run_mm) - run)) /
                                  (4.0 * kEps * (before.width_mm + after.width_mm) / sine));
        const auto face = static_cast<double>(std::hypot(run, static_cast<long double>(before.width_mm)));
        faces = std::max(faces, std::abs(joint.before.face_mm - face) / (6.0 * kEps * face));
        CHECK(joint.before.face_mm == joint.after.face_mm);
        const auto slope = static_cast<double>(std::atan2(run, static_cast<long double>(before.width_mm)) * 180.0L /
                                               3.14159265358979323846264338327950288L);
        slopes = std::max(slopes, std::abs(joint.before.saw_deg - slope) / (8.0 * kEps * 180.0));
    }
    CAPTURE(sums, marks, runs, faces, slopes);
    for (const double worst : {sums, marks, runs, faces, slopes}) CHECK(worst <= 1.0);
}

TEST_CASE("swapping the boards swaps the cuts, and a mirrored corner changes no number", "[unit][mitre]") {
    const JointCuts one = cuts(72.0, {3.0, 90.0}, {-2.0, 45.0});
    const JointCuts two = cuts(72.0, {-2.0, 45.0}, {3.0, 90.0});
    CHECK(one.before.inside_mm == two.after.inside_mm);
    CHECK(one.before.outside_mm == two.after.outside_mm);
    CHECK(one.after.saw_deg == two.before.saw_deg);
    CHECK(one.after.square_first_mm == two.before.square_first_mm);
}
