#pragma once
#include "base/vec2.hpp"

namespace boardring {

inline constexpr double kPi = 3.141592653589793238462643383279502884;

/// A corner whose boards turn by less than this is straight [deg] (design: |T| < 1e-6).
inline constexpr double kStraightTurnDeg = 1e-6;

constexpr double radians(double deg) {
    return deg * (kPi / 180.0);
}
constexpr double degrees(double rad) {
    return rad * (180.0 / kPi);
}

/// Turn T of a corner [deg] from its interior angle I [deg]: T = 180 - I, negative at an inward (reflex) corner.
/// Formed in degrees, before any sine, so that near-straight corners keep their digits.
constexpr double turn_of(double interior_deg) {
    return 180.0 - interior_deg;
}

/// Sine, cosine and tangent of an angle in degrees, any finite number of turns.
/// Edge      multiples of 90 give 0 or +-1 (never -0), where a conversion to radians would leave 6e-17; multiples of 30 and 45
///           give the nearest double: sin 30 is 0.5, tan 45 is 1. The tangent of 90 and 270 is infinite.
/// Accuracy  sine and cosine within 2 ulp of the true value for the double given, and within 1.7e-16; worst seen 1.6 ulp in
///           2,000,000 angles [angle_test]
double sin_deg(double deg);
double cos_deg(double deg);
double tan_deg(double deg);

/// The angle [deg] in (-180, 180] that differs from `deg` by whole turns. Exact, never -0.
double wrapped_deg(double deg);

/// Direction of v [deg], in (-180, 180], counted from +x, + to the left; the signs of zeros do not
/// matter. (0,0) gives 0.
double direction_deg(Vec2 v);

/// Unit vector in the direction `deg`.
Vec2 unit_deg(double deg);

}  // namespace boardring
