#pragma once
#include <array>

#include "base/result.hpp"
#include "joinery/joint_cuts.hpp"
#include "project/joint_kinds.hpp"

namespace boardring {

/// One joint on its own: two boards whose inside lines run along the sides of the corner (offset 0).
/// \param interior_deg        I in (0, 360)
/// \param width_mm            in the joint, > 0: the board that ends here, the board that starts here
/// \param first_runs_through  butt: the board that ends here runs on
/// Errors  those of the joint kind; joint.angle-out-of-range, joint.width-out-of-range (empty pointers: there is no file)
Result<JointCuts> cut_one_joint(JointKind kind, double interior_deg, std::array<double, 2> width_mm, bool first_runs_through);

}  // namespace boardring
