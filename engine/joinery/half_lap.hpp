#pragma once
#include "base/result.hpp"
#include "joinery/joint_cuts.hpp"

namespace boardring {

/// Half-lap: both boards end on the other's far line, with shoulders on its near line (far and near as for butt).
///
///     ends t(q, far of the other)     shoulders t(q, near of the other)     both: run = -w cot T, face = w / |sin T|
///
/// Depth of the laps is min(h)/2 and belongs to the frame, which knows the heights.
///
/// \param turn_deg  T in (-180, 180)
/// Laws      end and shoulder are parallel to the other board, w_other / |sin T| apart along the board; both S = 90 - I (270 - I
///           at inward corners); the two laps cover the same parallelogram, w_before w_after / |sin T| large.
/// Edge      T = +-90: square laps as long as the other board is wide. Inward corners: far is the inside line.
///           square_first = w cot T serves end and shoulder, square_second = 0.
/// Error     joint.straight-overlap for |T| < kStraightTurnDeg (boards in one line do not cross)
/// Accuracy  marks 4 eps (|q| + |r|) / |sin T| [half_lap_test]
/// Sensitive the lap grows as w_other / |sin T|: 44 mm for a 38 mm board at 120 degrees, 76 mm at 150
/// Source    docs/theory/half_lap.md
Result<JointCuts> half_lap(double turn_deg, BoardInPlan before, BoardInPlan after);

}  // namespace boardring
