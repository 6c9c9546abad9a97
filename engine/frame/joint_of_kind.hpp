#pragma once
#include "base/result.hpp"
#include "joinery/joint_cuts.hpp"
#include "project/project.hpp"

namespace boardring {

/// The cuts of one joint of any kind: joinery/<kind>.hpp, which has its laws, edges and errors.
/// \param before_runs_through  butt: the board that ends here runs on; elsewhere unused
Result<JointCuts> joint_of_kind(JointKind kind, double turn_deg, BoardInPlan before, BoardInPlan after, bool before_runs_through);

}  // namespace boardring
