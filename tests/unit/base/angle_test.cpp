#include "base/angle.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

constexpr long double kPiLong = 3.14159265358979323846264338327950288L;

// The true sine and cosine of a double in degrees, to long double precision. Half turns and quarter turns come off in
// degrees, where 11 more bits leave room for it: near 180 the sine of a long double in radians has only 54 good bits.
long double sine_within_90(long double deg) {
    return std::sin(deg * (kPiLong / 180.0L));
}
long double sine(double deg) {
    const long double rest = static_cast<long double>(std::remainder(deg, 360.0));
    if (rest > 90.0L) return sine_within_90(180.0L - rest);
    if (rest < -90.0L) return sine_within_90(-180.0L - rest);
    return sine_within_90(rest);
}
long double cosine(double deg) {
    return sine_within_90(90.0L - std::abs(static_cast<long double>(std::remainder(deg, 360.0))));
}

double ulp_of(double x) {
    return std::nextafter(std::abs(x), std::numeric_limits<double>::infinity()) - std::abs(x);
}

}  // namespace

TEST_CASE("sine and cosine are exact at quarter turns, whatever the number of turns") {
    for (int quarter = -4000; quarter <= 4000; ++quarter) {
        const double deg = 90.0 * quarter;
        const int place = ((quarter % 4) + 4) % 4;
        const double s = place == 1 ? 1.0 : place == 3 ? -1.0 : 0.0;
        const double c = place == 0 ? 1.0 : place == 2 ? -1.0 : 0.0;
        CHECK(sin_deg(deg) == s);
        CHECK(cos_deg(deg) == c);
        CHECK_FALSE((s == 0.0 && std::signbit(sin_deg(deg))));
        CHECK_FALSE((c == 0.0 && std::signbit(cos_deg(deg))));
    }
}

TEST_CASE("the angles of hexagons and octagons have the nearest double") {
    CHECK(sin_deg(30) == 0.5);
    CHECK(sin_deg(150) == 0.5);
    CHECK(sin_deg(-30) == -0.5);
    CHECK(cos_deg(60) == 0.5);
    CHECK(cos_deg(120) == -0.5);
    CHECK(cos_deg(240) == -0.5);
    CHECK(cos_deg(300) == 0.5);
    CHECK(sin_deg(45) == std::sqrt(0.5));
    CHECK(cos_deg(45) == std::sqrt(0.5));
    CHECK(sin_deg(225) == -std::sqrt(0.5));
    CHECK(cos_deg(135) == -std::sqrt(0.5));
    CHECK(tan_deg(45) == 1.0);
    CHECK(tan_deg(135) == -1.0);
    CHECK(tan_deg(0) == 0.0);
    CHECK(std::isinf(tan_deg(90)));
    for (const double deg : {60.0, 120.0}) CHECK(sin_deg(deg) == static_cast<double>(std::sqrt(0.75L)));
    CHECK(cos_deg(-30) == static_cast<double>(std::sqrt(0.75L)));
}

TEST_CASE("sine, cosine and tangent agree with extended precision") {
    boardring_test::Random random(1);
    double worst_ulp = 0.0;
    double worst_tan = 0.0;
    for (std::size_t k = 0; k < boardring_test::cases(200000, 2000000); ++k) {
        double deg = random.between(-720.0, 720.0);
        if (k % 4 == 1) deg = 90.0 * static_cast<double>(random.index(9)) + random.log_between(1e-14, 1.0);
        if (k % 4 == 2) deg = std::round(deg * 2.0) / 2.0;
        if (k % 4 == 3) deg = random.log_between(1e-12, 1e6);
        const double s = sin_deg(deg);
        const double c = cos_deg(deg);
        const double s_off = static_cast<double>(std::abs(static_cast<long double>(s) - sine(deg)));
        const double c_off = static_cast<double>(std::abs(static_cast<long double>(c) - cosine(deg)));
        const double off_ulp = std::max(s_off / std::max(ulp_of(s), 1e-19), c_off / std::max(ulp_of(c), 1e-19));
        worst_ulp = std::max(worst_ulp, off_ulp);
        if (std::max(s_off, c_off) > 1.7e-16 || off_ulp > 2.0)
            FAIL_CHECK("at " << deg << " off " << s_off << " and " << c_off << ", ulp " << off_ulp);
        const long double t = sine(deg) / cosine(deg);
        const double t_off = static_cast<double>(std::abs((static_cast<long double>(tan_deg(deg)) - t) / t));
        worst_tan = std::max(worst_tan, std::abs(c) > 1e-9 && std::abs(s) > 1e-9 ? t_off : 0.0);
    }
    CAPTURE(worst_ulp, worst_tan);
    CHECK(worst_ulp > 0.5);
    CHECK(worst_tan < 1e-15);
}

TEST_CASE("wrapped angles differ by whole turns and lie in (-180, 180]") {
    CHECK(wrapped_deg(180) == 180);
    CHECK(wrapped_deg(-180) == 180);
    CHECK(wrapped_deg(540) == 180);
    CHECK(wrapped_deg(-540) == 180);
    CHECK(wrapped_deg(360) == 0);
    CHECK(wrapped_deg(-360) == 0);
    CHECK_FALSE(std::signbit(wrapped_deg(-360)));
    CHECK(wrapped_deg(270) == -90);
    CHECK(wrapped_deg(-181) == 179);
    boardring_test::Random random(2);
    for (int k = 0; k < 20000; ++k) {
        const double deg = random.between(-2000.0, 2000.0);
        const double w = wrapped_deg(deg);
        const bool inside = w > -180.0 && w <= 180.0;
        const double turns = (deg - w) / 360.0;
        if (!inside || std::abs(turns - std::round(turns)) > 1e-12) FAIL_CHECK(deg);
    }
}

TEST_CASE("directions run from above -180 to 180, and signs of zeros do not matter") {
    CHECK(direction_deg({1, 0}) == 0);
    CHECK(direction_deg({0, 2}) == 90);
    CHECK(direction_deg({-3, 0}) == 180);
    CHECK(direction_deg({-3, -0.0}) == 180);
    CHECK(direction_deg({-1, -1e-300}) == 180);
    CHECK(direction_deg({0, -4}) == -90);
    CHECK(direction_deg({-0.0, -0.0}) == 0);
    CHECK(direction_deg({0, 0}) == 0);
    boardring_test::Random random(3);
    for (int k = 0; k < 20000; ++k) {
        const double deg = random.between(-180.0, 180.0);
        const Vec2 u = unit_deg(deg);
        if (std::abs(direction_deg(u) - deg) > 1e-13 * 180.0 || std::abs(length(u) - 1.0) > 3e-16) FAIL_CHECK(deg);
    }
}

TEST_CASE("turns keep the digits of near-straight corners") {
    CHECK(turn_of(108) == 72);
    CHECK(turn_of(270) == -90);
    CHECK(turn_of(180.0 - 0x1p-24) == 0x1p-24);
    // sin x = x for so small an angle; sin of 180 - 2^-24 taken in radians would have 8 good digits.
    CHECK_THAT(sin_deg(turn_of(180.0 - 0x1p-24)), WithinAbs(0x1p-24 * kPi / 180.0, 1e-24));
}
