#pragma once
#include "plan/plan.hpp"
#include "report/drawing.hpp"

namespace boardring {

/// How the plan is laid on the paper: closed rings and outlines given by points as they are, other open chains turned so that the
/// line between their free ends lies level below them; mirrored when the letters run clockwise. Drawing units are the plan's
/// millimetres.
class PlanView {
public:
    explicit PlanView(const Plan& plan);
    [[nodiscard]] Vec2 operator()(Vec2 p) const;

private:
    double cosine_ = 1.0, sine_ = 0.0;
    bool mirrored_ = false;
};

/// Plan view to a round scale: boards, corner letters, board numbers in circles, interior angles, lengths of the given line,
/// which line is given, joints, free ends, IN-CORNER at inward corners, scale bar. Labels never overlap each other or a board's
/// edge; where there is no room for one it is left out and the drawing says so. \param plan  with its outline and frame
Drawing draw_plan(const Plan& plan);

}  // namespace boardring
