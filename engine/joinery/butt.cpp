#include "joinery/butt.hpp"

#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "joinery/cut_along.hpp"

namespace boardring {

Result<JointCuts> butt(double turn_deg, BoardInPlan before, BoardInPlan after, bool before_runs_through) {
    ENSURE(std::abs(turn_deg) < 180.0 && before.width_mm > 0.0 && after.width_mm > 0.0);
    if (std::abs(turn_deg) < kStraightTurnDeg) {
        return Finding{Severity::error, "joint.straight-overlap", "",
                       "two boards that run on in one line here have no edge for one to run to and the other to stop at",
                       "make it a mitre, which is a plain square joint at a straight corner"};
    }
    const BoardInPlan& through = before_runs_through ? before : after;
    const BoardInPlan& stopped = before_runs_through ? after : before;
    const EndCut runs_on = cut_along(turn_deg, through, far_offset_mm(turn_deg, stopped));
    const EndCut stops = cut_along(turn_deg, stopped, near_offset_mm(turn_deg, through));
    return before_runs_through ? JointCuts{runs_on, stops} : JointCuts{stops, runs_on};
}

}  // namespace boardring
