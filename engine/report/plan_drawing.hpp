#pragma once
#include "drawing/drawing.hpp"
#include "plan/plan.hpp"

namespace boardring {

/// Plan view to a round scale: boards, corner letters, board numbers in circles, interior angles, lengths of the given line,
/// which line is given, joints, free ends, IN-CORNER at inward corners, scale bar. Labels never overlap each other or a board's
/// edge; where there is no room for one it is left out and the drawing says so. \param plan  with its outline and frame
Drawing draw_plan(const Plan& plan);

}  // namespace boardring
