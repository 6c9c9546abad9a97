#pragma once
#include <cmath>

namespace boardring_test {

// The textbook forms in long double, for the error bounds of engine/joinery: ten more bits than the engine has, the turn taken to
// the nearest multiple of 90 first, where the sine's argument is exact.
inline long double exact_sin_deg(double deg) {
    const long double kRadian = 3.14159265358979323846264338327950288L / 180.0L;
    if (deg > 90.0) return exact_sin_deg(180.0 - deg);
    if (deg < -90.0) return exact_sin_deg(-180.0 - deg);
    if (std::abs(deg) <= 45.0) return std::sin(static_cast<long double>(deg) * kRadian);
    const long double rest = (90.0L - static_cast<long double>(std::abs(deg))) * kRadian;
    return deg > 0.0 ? std::cos(rest) : -std::cos(rest);
}

// 1 - cos T as 2 sin^2(T/2), so that nothing cancels.
inline long double exact_versine_deg(double deg) {
    const long double half = exact_sin_deg(0.5 * deg);
    return 2.0L * half * half;
}

/// t(q, r) = (q cos T - r) / sin T
inline long double exact_crossing(double q, double r, double turn_deg) {
    const auto lq = static_cast<long double>(q);
    const auto lr = static_cast<long double>(r);
    return ((lq - lr) - lq * exact_versine_deg(turn_deg)) / exact_sin_deg(turn_deg);
}

}  // namespace boardring_test
