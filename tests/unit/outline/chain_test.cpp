#include "outline/chain.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

// The same walk in long double, radians from the exact value of each turn: a second construction that shares nothing but sin and
// cos.
std::vector<Vec2> long_walk(const Chain& chain) {
    const long double to_rad = std::acos(-1.0L) / 180.0L;
    std::vector<Vec2> corners;
    long double deg = 0.0L, x = 0.0L, y = 0.0L;
    for (std::size_t k = 0; k < chain.sides(); ++k) {
        corners.push_back({static_cast<double>(x), static_cast<double>(y)});
        if (k > 0) deg = std::remainder(deg + (180.0L - static_cast<long double>(chain.interior_deg[k])), 360.0L);
        x += static_cast<long double>(chain.sides_mm[k]) * std::cos(deg * to_rad);
        y += static_cast<long double>(chain.sides_mm[k]) * std::sin(deg * to_rad);
    }
    corners.push_back({static_cast<double>(x), static_cast<double>(y)});
    return corners;
}

double worst_relative_error(const Chain& chain) {
    const Walk walked = walk(chain);
    const std::vector<Vec2> expected = long_walk(chain);
    double largest = 0.0, worst = 0.0;
    for (std::size_t k = 0; k < expected.size(); ++k) {
        const Vec2 at = k < walked.corners_mm.size() ? walked.corners_mm[k] : walked.end_mm;
        largest = std::max({largest, std::abs(expected[k].x), std::abs(expected[k].y)});
        worst = std::max(worst, length(at - expected[k]));
    }
    return worst / largest;
}

Chain regular_chain(std::size_t n, double side_mm) {
    Chain chain;
    chain.sides_mm.assign(n, side_mm);
    chain.interior_deg.assign(n, 180.0 - 360.0 / static_cast<double>(n));
    return chain;
}

}  // namespace

TEST_CASE("a careful sum keeps what plain addition rounds off") {
    CarefulSum careful;
    double plain = 0.0;
    for (int i = 0; i < 1000000; ++i) {
        careful.add(0.1);
        plain += 0.1;
    }
    // 0.1 as a double is 0.1 + 5.55e-18; a million of them differ from 100000 by 5.6e-12, below its last place (1.5e-11).
    CHECK(careful.value() == 100000.0);
    CHECK(plain != 100000.0);
    CarefulSum vast;
    for (const double term : {1.0, 1e100, 1.0, -1e100}) vast.add(term);
    CHECK(vast.value() == 2.0);
}

TEST_CASE("a walked corner is within 1e-9 of the largest coordinate, up to 100,000 sides") {
    CHECK(worst_relative_error(regular_chain(6, 400.0)) < 1e-15);
    CHECK(worst_relative_error(regular_chain(1000, 20.0)) < 1e-14);
    CHECK(worst_relative_error(regular_chain(100000, 5.0)) < 1e-12);
    Random random(1);
    for (const std::size_t n : {3U, 7U, 40U, 1000U, 100000U}) {
        Chain chain;
        for (std::size_t k = 0; k < n; ++k) {
            chain.sides_mm.push_back(random.log_between(1.0, 10000.0));
            chain.interior_deg.push_back(random.between(15.0, 345.0));
        }
        CHECK(worst_relative_error(chain) < 1e-12);
    }
}

TEST_CASE("the walk of a square comes back exactly, and knows no minus nought") {
    Chain square = regular_chain(4, 600.0);
    const Walk walked = walk(square);
    CHECK(walked.end_mm == Vec2{0.0, 0.0});
    CHECK(walked.corners_mm[2] == Vec2{600.0, 600.0});
    CHECK(walked.direction_deg == std::vector<double>{0.0, 90.0, 180.0, -90.0});
    for (const Vec2 p : walked.corners_mm) CHECK_FALSE((std::signbit(p.x) || std::signbit(p.y)));
}

TEST_CASE("an open chain has one corner more than sides, its first and last angle unused") {
    Chain chain;
    chain.closed = false;
    chain.sides_mm = {300.0, 400.0};
    chain.interior_deg = {12.0, 90.0, 77.0};
    const Walk walked = walk(chain);
    REQUIRE(walked.corners_mm.size() == 3);
    CHECK(walked.corners_mm[1] == Vec2{300.0, 0.0});
    CHECK(walked.corners_mm[2] == Vec2{300.0, 400.0});
}

TEST_CASE("the misfit of the angle sum keeps its digits however many corners there are") {
    CHECK(angle_misfit_deg(regular_chain(6, 1.0)) == 0.0);
    Chain chain = regular_chain(100000, 1.0);
    CHECK(std::abs(angle_misfit_deg(chain)) < 1e-8);  // 100,000 angles of 180 - 0.0036, each rounded by up to 1.4e-14
    chain.interior_deg[5] += 0.25;
    CHECK_THAT(angle_misfit_deg(chain), within_deg(0.25, 1e-8));
}
