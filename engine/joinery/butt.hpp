#pragma once
#include "base/result.hpp"
#include "joinery/joint_cuts.hpp"

namespace boardring {

/// Butt: one board runs through and ends along the other's far line, the other stops at its near line. Far is the outside line
/// at a convex corner, the inside line at an inward one; near is the other.
///
///     through: marks t(q, far of the other)     stopped: marks t(q, near of the other)
///     both:    run = -w cot T, face = w / |sin T|
///
/// \param turn_deg  T in (-180, 180)
/// \param before_runs_through  the board that ends here is the one that runs on
/// Laws      both S = 90 - I (270 - I at inward corners); each mark of the through board reaches at least as far as with a mitre
///           and one of them w_other / |sin T| further; the stopped board's end lies on the through board's near line.
/// Edge      T = +-90: square cuts. T > 90, a sharp corner: S > 0; T < 90: S < 0, the inside is the longer.
///           The square-line method needs one step: square_first = w cot T, square_second = 0.
/// Error     joint.straight-overlap for |T| < kStraightTurnDeg (a straight corner has no far line to run to)
/// Accuracy  marks 4 eps (|q| + |r|) / |sin T|; runs 4 eps w / |sin T|; S exact to one rounding [butt_test]
/// Sensitive d t(q, r)/dI = (q - r cos T) / sin^2 T per radian: 0.66 mm per degree for the outside of a 38 mm board at 90
/// Source    docs/theory/butt.md
Result<JointCuts> butt(double turn_deg, BoardInPlan before, BoardInPlan after, bool before_runs_through);

}  // namespace boardring
