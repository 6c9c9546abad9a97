#pragma once
#include "joinery/joint_cuts.hpp"

namespace boardring {

/// Offset of a board's *far* line as its neighbour at this corner sees it: the outside line at a convex corner (T > 0), the
/// inside line at an inward one (T < 0); the near line is the other. Not for straight corners.
double far_offset_mm(double turn_deg, BoardInPlan board);
double near_offset_mm(double turn_deg, BoardInPlan board);

/// End of `own` cut along the other board's line at offset `along_mm`: the cut lies parallel to the other board.
///
///     S = 90 - I at a convex corner, 270 - I at an inward one;  run = -w cot T;  face = w / |sin T|
///
/// \param turn_deg  T in (-180, 180), |T| >= kStraightTurnDeg
/// \return square_first = w cot T, square_second = 0
/// Accuracy  marks as line_crossing_mm; run and face 4 eps of their size [butt_test]
EndCut cut_along(double turn_deg, BoardInPlan own, double along_mm);

}  // namespace boardring
