#pragma once
#include "joinery/joint_cuts.hpp"

namespace boardring {

/// Free end of an open chain: the cut line passes through the outline's end point, t(q) = -q tan S.
/// \param saw_deg  S in (-89, 89), + = outside longer; 0 is square
EndCut free_end(double saw_deg, BoardInPlan board);

}  // namespace boardring
