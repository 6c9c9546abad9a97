#pragma once
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "plan/plan.hpp"
#include "report/drawing_parts.hpp"
#include "report/ring_picture.hpp"

namespace boardring {

// What stands below the plan's picture.

/// "inside of the boards, margin 6": where the given line runs.
std::string line_words(const Plan& plan);
/// "seen from above", "seen from the room".
std::string seen_words(const Plan& plan);
/// "Overall: outside 827 x 706, inside 739 x 640." Boxes of the picture as it lies.
std::string overall_words(const Plan& plan);
/// What letters, numbers and angles mean, what was left out, the boards, sizes, checks: one text a line.
std::vector<std::string> legend_lines(const Plan& plan, const RingPicture& ring);
/// A little picture and the name of each kind of joint there is; at the right a bar of round length. Moves the column down.
/// \param right  where the bar's text ends, drawing units
void draw_joint_row(Drawing& drawing, const Plan& plan, TextColumn& column, double right);

}  // namespace boardring
