#include "joinery/joint_cuts.hpp"

#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"

namespace boardring {

double line_crossing_mm(double q_mm, double r_mm, double turn_deg) {
    ENSURE(std::abs(turn_deg) >= kStraightTurnDeg && std::abs(turn_deg) < 180.0);
    // (q cos T - r) / sin T loses every digit of the answer when q = r and T is small: both terms of the numerator are q. So cos T is
    // 1 - sin T tan(T/2), or, past a quarter turn, sin T cot(T/2) - 1: the second term stays below |q| either way. With the first form
    // alone both terms grow at a needle, and their roundings came to more than is promised.
    const double half_tan = tan_deg(0.5 * turn_deg);
    if (std::abs(turn_deg) <= 90.0) return (q_mm - r_mm) / sin_deg(turn_deg) - q_mm * half_tan;
    return q_mm / half_tan - (q_mm + r_mm) / sin_deg(turn_deg);
}

}  // namespace boardring
