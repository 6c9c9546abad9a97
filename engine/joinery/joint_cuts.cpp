#include "joinery/joint_cuts.hpp"

#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"

namespace boardring {

double line_crossing_mm(double q_mm, double r_mm, double turn_deg) {
    ENSURE(std::abs(turn_deg) >= kStraightTurnDeg && std::abs(turn_deg) < 180.0);
    // (q cos T - r) / sin T loses every digit of the answer when q = r and T is small: both terms of the numerator are q.
    return (q_mm - r_mm) / sin_deg(turn_deg) - q_mm * tan_deg(0.5 * turn_deg);
}

}  // namespace boardring
