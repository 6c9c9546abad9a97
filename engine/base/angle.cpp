#include "base/angle.hpp"

#include <cmath>

namespace boardring {
namespace {

// Octant reduction in degrees: std::remainder is exact, so no digit is lost before the sine is taken.
struct Reduced {
    int quarter;    // 0..3, quarter turns taken off
    double rad;     // what is left, within +-pi/4
};

Reduced reduced(double deg) {
    int quotient = 0;
    const double rest = std::remquo(deg, 90.0, &quotient);
    return {quotient & 3, radians(rest)};
}

}  // namespace

double sin_deg(double deg) {
    const Reduced r = reduced(deg);
    switch (r.quarter) {
        case 0: return std::sin(r.rad);
        case 1: return std::cos(r.rad);
        case 2: return -std::sin(r.rad);
        default: return -std::cos(r.rad);
    }
}

double cos_deg(double deg) {
    const Reduced r = reduced(deg);
    switch (r.quarter) {
        case 0: return std::cos(r.rad);
        case 1: return -std::sin(r.rad);
        case 2: return -std::cos(r.rad);
        default: return std::sin(r.rad);
    }
}

double tan_deg(double deg) { return sin_deg(deg) / cos_deg(deg); }

double wrapped_deg(double deg) {
    const double rest = std::remainder(deg, 360.0);
    return rest <= -180.0 ? rest + 360.0 : rest;
}

double direction_deg(Vec2 v) { return degrees(std::atan2(v.y, v.x)); }

Vec2 unit_deg(double deg) { return {cos_deg(deg), sin_deg(deg)}; }

}  // namespace boardring
