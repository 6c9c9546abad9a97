#pragma once
#include <vector>

#include "closure/chain_walk.hpp"
#include "closure/closure.hpp"
#include "closure/contact.hpp"

namespace boardring {

/// A closed ring drawn in as a whole, by a band clamp say: the openings with the smallest sum of gap_in^2 + gap_out^2 + lip_in^2 over all
/// joints, such that the boards still make a ring and no wood overlaps (gaps >= 0).
///
/// \param contacts  one per corner; contacts[c] joins board c - 1 to board c, contacts[0] the last board to the first
/// \param start     the misfits of any arrangement near the answer (gaps may be negative): boards laid where the plan has them
/// \param perimeter_mm  sum of sides, the scale of what counts as closed
/// \return all joints; settled = false if the exact chain could not be closed within kDrawnIn of the perimeter: turns of many degrees
///         at single joints, faces that would have to open by more than their own length
///
/// Laws      perfect boards give 0; relabelling the ring changes nothing; if 2N cuts of a regular ring are off by d, every joint opens by 2 d w / cos S.
/// Accuracy  the exact chain closes within kDrawnIn of the perimeter, openings within 10 kDrawnIn of it [closure_property_test]
/// Cost      linear in the number of boards: 3 to 6 rounds, each one walk and one least_opening
SpreadClosure draw_in(const std::vector<JointContact>& contacts, const std::vector<JointState>& start, double perimeter_mm);

/// Part of the perimeter.
inline constexpr double kDrawnIn = 1e-12;

}  // namespace boardring
