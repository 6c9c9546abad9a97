#pragma once
#include <vector>

#include "closure/chain_walk.hpp"
#include "closure/closure.hpp"
#include "closure/contact.hpp"

namespace boardring {

/// A closed ring drawn in as a whole, by a band clamp say: the openings with the smallest sum of gap_in^2 + gap_out^2 +
/// lip_in^2 over all joints, such that the boards still make a ring and no wood overlaps (gaps >= 0).
///
/// \param contacts  one per corner; contacts[c] joins board c - 1 to board c, contacts[0] the last board to the first
/// \param start     the misfits of any arrangement near the answer (gaps may be negative): boards laid where the plan has
///         them
/// \param perimeter_mm  sum of sides, the scale of what counts as closed
/// \return all joints; settled = false if the exact chain could not be closed: angles left of tens of degrees at single
///         joints, faces that would have to open by more than their own length
///
/// Laws      perfect boards give 0; relabelling the ring changes nothing; if all 2N cuts of a regular ring are off by d,
///           every joint opens by 2 d w / cos S.
/// Edge      far out, force through a slim bent ring can make it spring aside: the answer is then one with one force through
///           all joints, near the first-order answer, but perhaps not the only one.
/// Accuracy  closed to kDrawnIn of the perimeter by its own walk, 1e-10 by another [closure_property_test]; no gap below 0
///           but for rounding
/// Cost      linear in the number of boards: mostly one round of least_opening and two walks of Newton's method
SpreadClosure draw_in(const std::vector<JointContact>& contacts, const std::vector<JointState>& start, double perimeter_mm);

/// What counts as closed, as a part of the perimeter.
inline constexpr double kDrawnIn = 1e-12;

}  // namespace boardring
