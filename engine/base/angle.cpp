#include "base/angle.hpp"

#include <cmath>

namespace boardring {
namespace {

constexpr double kSqrtHalf = 0.707106781186547524400844362104849039;
constexpr double kHalfSqrt3 = 0.866025403784438646763723170752936183;

// Octant reduction in degrees: std::remquo is exact, so no digit is lost before the sine is taken.
struct Reduced {
    int quarter;      // 0..3, quarter turns taken off
    double rest_deg;  // what is left, within +-45
};

Reduced reduced(double deg) {
    int quotient = 0;
    const double rest = std::remquo(deg, 90.0, &quotient);
    return {quotient & 3, rest};
}

// Sine and cosine within +-45 degrees. The angles of squares, hexagons and octagons come out as the nearest double of their
// true value, where sin(30 * pi / 180) is one bit short of a half and tan(45 degrees) would be short of 1.
double small_sin(double deg) {
    const double size = std::abs(deg);
    if (size == 30.0) return std::copysign(0.5, deg);
    if (size == 45.0) return std::copysign(kSqrtHalf, deg);
    return std::sin(radians(deg));
}

double small_cos(double deg) {
    const double size = std::abs(deg);
    if (size == 30.0) return kHalfSqrt3;
    if (size == 45.0) return kSqrtHalf;
    return std::cos(radians(deg));
}

// Turns -0 into 0: atan2 would take it for the other side of a half turn.
double unsigned_zero(double x) {
    return x + 0.0;
}

}  // namespace

double sin_deg(double deg) {
    const Reduced r = reduced(deg);
    switch (r.quarter) {
        case 0:
            return unsigned_zero(small_sin(r.rest_deg));
        case 1:
            return small_cos(r.rest_deg);
        case 2:
            return unsigned_zero(-small_sin(r.rest_deg));
        default:
            return -small_cos(r.rest_deg);
    }
}

double cos_deg(double deg) {
    const Reduced r = reduced(deg);
    switch (r.quarter) {
        case 0:
            return small_cos(r.rest_deg);
        case 1:
            return unsigned_zero(-small_sin(r.rest_deg));
        case 2:
            return -small_cos(r.rest_deg);
        default:
            return unsigned_zero(small_sin(r.rest_deg));
    }
}

double tan_deg(double deg) {
    return sin_deg(deg) / cos_deg(deg);
}

double wrapped_deg(double deg) {
    const double rest = std::remainder(deg, 360.0);
    return rest <= -180.0 ? rest + 360.0 : unsigned_zero(rest);
}

double direction_deg(Vec2 v) {
    const double deg = degrees(std::atan2(unsigned_zero(v.y), unsigned_zero(v.x)));
    return deg <= -180.0 ? 180.0 : deg;
}

Vec2 unit_deg(double deg) {
    return {cos_deg(deg), sin_deg(deg)};
}

}  // namespace boardring
