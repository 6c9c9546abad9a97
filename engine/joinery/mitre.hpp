#pragma once
#include "base/result.hpp"
#include "joinery/joint_cuts.hpp"

namespace boardring {

/// Mitre through inner and outer corner of two boards of any widths. docs/theory/mitre.md
/// \param turn_deg  T = 180 - I in (-180, 180); a straight corner (|T| < kStraightTurnDeg) needs equal offsets and widths: square ends
/// Laws   S_before + S_after = T (reflex too); face_before = face_after; S_own < 0 at T > 0 (undercut) exactly if w_other / w_own < cos T.
/// Error  joint.straight-unequal (pointer empty: the caller knows the corner)
Result<JointCuts> mitre(double turn_deg, BoardInPlan before, BoardInPlan after);

}  // namespace boardring
