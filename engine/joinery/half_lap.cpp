#include "joinery/half_lap.hpp"

#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "joinery/cut_along.hpp"

namespace boardring {
namespace {

EndCut lapped(double turn_deg, BoardInPlan own, BoardInPlan other) {
    EndCut end = cut_along(turn_deg, own, far_offset_mm(turn_deg, other));
    const EndCut shoulder = cut_along(turn_deg, own, near_offset_mm(turn_deg, other));
    end.lap = LapCut{shoulder.inside_mm, shoulder.outside_mm};
    return end;
}

}  // namespace

Result<JointCuts> half_lap(double turn_deg, BoardInPlan before, BoardInPlan after) {
    ENSURE(std::abs(turn_deg) < 180.0 && before.width_mm > 0.0 && after.width_mm > 0.0);
    if (std::abs(turn_deg) < kStraightTurnDeg) {
        return Finding{Severity::error, "joint.straight-overlap", "",
                       "two boards that run on in one line here do not cross, so nothing says how long the lap is",
                       "make it a mitre, which is a plain square joint at a straight corner, or one board for both sides"};
    }
    return JointCuts{lapped(turn_deg, before, after), lapped(turn_deg, after, before)};
}

}  // namespace boardring
