#pragma once
#include <optional>
#include <vector>

#include "closure/chain_walk.hpp"
#include "closure/contact.hpp"
#include "closure/least_opening.hpp"

namespace boardring {

/// The exact ring with the least openings near a first-order answer, by Newton's method in three unknowns.
///
/// At the minimum one and the same force goes through every joint (docs/theory/closure.md section 5): once it is known, each
/// joint's openings follow from where the joint lies, so the boards can be laid one after another. The three numbers of the
/// force are then changed until the last board meets the first.
///
/// \param contacts   as draw_in takes them
/// \param states     first-order answer: where each joint's search begins
/// \param force      LeastOpening::force of that answer, its moment taken about `about_mm`
/// \param about_mm   in the plan of board 0
/// \param enough_mm  how well the ring has to close; turns count on the radius of a ring of this perimeter
/// \return the joints' states, every gap >= 0; nothing if Newton's method does not close the ring from here: the force is not
///         determined (no gap is pressed, or all is perfect) or the answer lies too far off
std::optional<std::vector<JointState>> close_by_force(const std::vector<JointContact>& contacts,
                                                      const std::vector<JointState>& states, Twist force, Vec2 about_mm,
                                                      double enough_mm, double perimeter_mm);

}  // namespace boardring
