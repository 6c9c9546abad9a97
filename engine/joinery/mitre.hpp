#pragma once
#include "base/result.hpp"
#include "joinery/joint_cuts.hpp"

namespace boardring {

/// Mitre through inner and outer corner of two boards of any widths.
///
/// The inside lines of both boards meet at the inner corner, the outside lines at the outer corner; both boards are cut along the
/// line between. For a board o beside a board p:
///
///     inside mark t(a_o, a_p)     outside mark t(a_o + w_o, a_p + w_p)     (line_crossing_mm)
///     run_o = (w_p - w_o cos T) / sin T      S_o = atan(run_o / w_o)      face = w_o / cos S_o
///     by hand: square_first = w_o cot T, square_second = w_p / sin T
///
/// \param turn_deg  T = 180 - I in (-180, 180); negative at an inward corner
/// \param before, after  the board that ends here, the board that starts here; widths > 0
/// Laws      S_before + S_after = T, inward corners too; face_before = face_after; equal boards S = T/2 each; scaling offsets and
///           widths scales marks, runs and faces; swapping the boards swaps the cuts.
/// Edge      w_p = w_o cos T: run_o = 0, a square cut (38 and 19 at 120 degrees). Thinner p: S_o has the other sign than T, an
///           undercut. T = 90: run_o = w_p, the widths change places. T < 0: the long side is inside, square_second < 0.
///           |T| < kStraightTurnDeg: boards with equal offsets and widths get square ends (S = T/2, square_first = 0).
/// Error     joint.straight-unequal at a straight corner with unequal offsets or widths; pointer empty, the caller knows the
///           corner
/// Accuracy  marks and runs 4 eps (|q| + |r|) / |sin T| with the two offsets q, r (runs: the two widths); face 6 eps of itself;
///           S 8 eps of 180 degrees; S_before + S_after = T within 2 eps of 90 degrees [mitre_test]
/// Sensitive d(run_o)/dI = -run_p / sin T per radian: 0.44 mm per degree for 38 beside 38 at 120; d(run_o)/dw_p = 1 / sin T:
///           1.15 there
/// Source    docs/theory/mitre.md; no outside result used
Result<JointCuts> mitre(double turn_deg, BoardInPlan before, BoardInPlan after);

}  // namespace boardring
