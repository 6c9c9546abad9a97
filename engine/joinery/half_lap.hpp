#pragma once
#include "base/result.hpp"
#include "joinery/joint_cuts.hpp"

namespace boardring {

/// Half-lap: both boards end on the other's far line, with shoulders on its near line (far and near as for butt). docs/theory/half_lap.md
/// Depth of the laps is min(h)/2 and belongs to the frame, which knows the heights.
/// Laws   end and shoulder are parallel to the other board; both S = 90 - I (270 - I at inward corners).
/// Error  joint.straight-overlap
Result<JointCuts> half_lap(double turn_deg, BoardInPlan before, BoardInPlan after);

}  // namespace boardring
