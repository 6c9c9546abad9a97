// A corner measured with the tape alone.
#include "outline/taped_corner.hpp"

#include <cmath>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

TEST_CASE("Three, four, five is a square corner, and what a millimetre makes of it is the law of cosines' derivative") {
    const auto corner = taped_corner(900.0, 1200.0, 1500.0);
    REQUIRE(corner);
    CHECK(corner->interior_deg == Approx(90.0).margin(1e-12));
    // dI = (c dc - a da - b db) / (a b) at a square corner.
    const double by_hand = degrees(std::sqrt(1500.0 * 1500.0 + 900.0 * 900.0 + 1200.0 * 1200.0) / (900.0 * 1200.0));
    CHECK(corner->deg_per_mm == Approx(by_hand).epsilon(0.002));
}

TEST_CASE("A taped corner is the angle of the law of cosines, in any order of its legs and at any scale") {
    Random random(41);
    for (int i = 0; i < 20000; ++i) {
        const double a = random.log_between(10.0, 3000.0), b = random.log_between(10.0, 3000.0);
        const double deg = random.between(1.0, 179.0);
        const long double angle = static_cast<long double>(deg) * 3.14159265358979323846264338327950288L / 180.0L;
        // The law of cosines without its cancelling: c^2 = (a - b)^2 + 4 a b sin^2(I/2).
        const long double la = static_cast<long double>(a), lb = static_cast<long double>(b), half = std::sin(0.5L * angle);
        const auto across = static_cast<double>(std::sqrt((la - lb) * (la - lb) + 4.0L * la * lb * half * half));
        const auto corner = taped_corner(a, b, across);
        REQUIRE(corner);
        // 11 units for the angle of the lengths given, and c was rounded by half its last digit: dI = c dc / (a b sin I).
        constexpr double kUnit = 0x1p-53;
        const double of_rounded = degrees(across * across * kUnit / (a * b * std::sin(radians(deg))));
        REQUIRE(std::abs(corner->interior_deg - deg) <= 11.0 * kUnit * deg + 1.000001 * of_rounded);
        const auto swapped = taped_corner(b, a, across);
        REQUIRE(swapped->interior_deg == corner->interior_deg);
        REQUIRE(swapped->deg_per_mm == corner->deg_per_mm);
        const auto larger = taped_corner(2.0 * a, 2.0 * b, 2.0 * across);
        REQUIRE(larger->interior_deg == corner->interior_deg);
    }
}

TEST_CASE("Three lengths that make no triangle are no corner; a straight one is 180, known badly") {
    CHECK_FALSE(taped_corner(900.0, 1200.0, 2100.1));
    CHECK_FALSE(taped_corner(900.0, 1200.0, 299.0));
    CHECK_FALSE(taped_corner(900.0, 0.0, 900.0));
    CHECK_FALSE(taped_corner(900.0, 1200.0, 300.0));  // folded back on itself
    const auto straight = taped_corner(900.0, 1200.0, 2100.0);
    REQUIRE(straight);
    CHECK(straight->interior_deg == 180.0);
    CHECK(straight->deg_per_mm > 2.0);
    CHECK(straight->deg_per_mm < 10.0);
}
