#pragma once
#include "base/vec2.hpp"
#include "plan/plan.hpp"

namespace boardring {

/// How the plan is laid on the paper: closed rings and outlines given by points as they are, other open chains turned so that
/// the line between their free ends lies level below them; mirrored when the letters run clockwise. Distances stay.
class PlanView {
public:
    PlanView(const Project& project, const Outline& outline);
    /// \param plan  with its outline
    explicit PlanView(const Plan& plan);
    [[nodiscard]] Vec2 operator()(Vec2 p) const;

private:
    double cosine_ = 1.0, sine_ = 0.0;
    bool mirrored_ = false;
};

}  // namespace boardring
