#include "outline/laid_on.hpp"

#include <cmath>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

double squares(const std::vector<Vec2>& laid, const std::vector<Vec2>& targets, const std::vector<bool>& counts) {
    double sum = 0.0;
    for (std::size_t i = 0; i < laid.size(); ++i) {
        if (counts[i]) sum += dot(laid[i] - targets[i], laid[i] - targets[i]);
    }
    return sum;
}

}  // namespace

TEST_CASE("points turned and moved are laid back where they were") {
    const std::vector<Vec2> points{{0.0, 0.0}, {900.0, 0.0}, {900.0, 600.0}, {200.0, 700.0}};
    std::vector<Vec2> targets;
    for (const Vec2 p : points) targets.push_back(Vec2{300.0, -50.0} + turned(p, cos_deg(130.0), sin_deg(130.0)));
    const std::vector<Vec2> laid = laid_on(points, targets, {true, true, true, true});
    for (std::size_t i = 0; i < points.size(); ++i) CHECK(length(laid[i] - targets[i]) < 1e-9);
    // Those that do not count pull at nothing.
    targets[3] = targets[3] + Vec2{500.0, 500.0};
    const std::vector<Vec2> without = laid_on(points, targets, {true, true, true, false});
    for (std::size_t i = 0; i < 3; ++i) CHECK(length(without[i] - targets[i]) < 1e-9);
}

TEST_CASE("no other turn and shift comes nearer") {
    boardring_test::Random random(31);
    for (int run = 0; run < 200; ++run) {
        std::vector<Vec2> points, targets;
        std::vector<bool> counts;
        const std::size_t n = 3 + random.index(6);
        for (std::size_t i = 0; i < n; ++i) {
            points.push_back({random.between(-500.0, 500.0), random.between(-500.0, 500.0)});
            targets.push_back({random.between(-500.0, 500.0), random.between(-500.0, 500.0)});
            counts.push_back(i < 2 || random.chance(0.7));
        }
        const std::vector<Vec2> laid = laid_on(points, targets, counts);
        const double least = squares(laid, targets, counts);
        for (const double turn : {-0.01, 0.01, 0.0}) {
            for (const Vec2 move : {Vec2{1.0, 0.0}, Vec2{-1.0, 0.0}, Vec2{0.0, 1.0}, Vec2{0.0, -1.0}, Vec2{0.0, 0.0}}) {
                std::vector<Vec2> other;
                for (const Vec2 p : laid) other.push_back(move + turned(p, std::cos(turn), std::sin(turn)));
                REQUIRE(squares(other, targets, counts) >= least * (1.0 - 1e-12));
            }
        }
    }
}

TEST_CASE("on one point alone all are laid upon it with the turn that suits the others; without any direction nothing is turned") {
    const std::vector<Vec2> points{{0.0, 0.0}, {100.0, 0.0}}, targets{{10.0, 10.0}, {10.0, 210.0}};
    const std::vector<Vec2> laid = laid_on(points, targets, {true, false});
    CHECK(length(laid[0] - targets[0]) < 1e-12);
    CHECK(length(laid[1] - Vec2{10.0, 110.0}) < 1e-9);
    const std::vector<Vec2> same = laid_on({{1.0, 1.0}, {1.0, 1.0}}, targets, {true, true});
    CHECK(same[0].x == 10.0);
    CHECK(same[1].y == 110.0);
}
