#pragma once
#include "base/result.hpp"
#include "joinery/joint_cuts.hpp"

namespace boardring {

/// Butt: one board runs through and ends along the other's far line, the other stops at its near line. Far is the outside line
/// at a convex corner, the inside line at an inward one; near is the other. docs/theory/butt.md
/// \param before_runs_through  the board that ends here is the one that runs on
/// Laws   both S = 90 - I (270 - I at inward corners); the through board reaches further than with a mitre.
/// Error  joint.straight-overlap (a straight corner has no far line to run to)
Result<JointCuts> butt(double turn_deg, BoardInPlan before, BoardInPlan after, bool before_runs_through);

}  // namespace boardring
