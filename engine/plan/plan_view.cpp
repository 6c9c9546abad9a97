#include "plan/plan_view.hpp"

#include <variant>

#include "base/ensure.hpp"

namespace boardring {

namespace {

const Outline& outline_of(const Plan& plan) {
    ENSURE(plan.outline.has_value());
    return *plan.outline;
}

}  // namespace

PlanView::PlanView(const Plan& plan) : PlanView(plan.project, outline_of(plan)) {}

PlanView::PlanView(const Project& project, const Outline& outline) {
    mirrored_ = outline.letters_clockwise;
    if (outline.closed || std::holds_alternative<PointsOutline>(project.outline.form)) return;
    const Vec2 across = outline.corners_mm.front() - outline.corners_mm.back();
    if (length(across) == 0.0) return;
    // Mirrored, the chain must end up above its level line too: turn it by half a turn more.
    const double sign = mirrored_ ? -1.0 : 1.0;
    cosine_ = sign * across.x / length(across);
    sine_ = -sign * across.y / length(across);
}

Vec2 PlanView::operator()(Vec2 p) const {
    const Vec2 t = turned(p, cosine_, sine_);
    return {t.x, mirrored_ ? -t.y : t.y};
}

}  // namespace boardring
