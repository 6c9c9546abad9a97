#include "report/plan_view.hpp"

#include <variant>

#include "base/ensure.hpp"

namespace boardring {

PlanView::PlanView(const Plan& plan) {
    ENSURE(plan.outline.has_value());
    mirrored_ = plan.outline->letters_clockwise;
    if (plan.outline->closed || std::holds_alternative<PointsOutline>(plan.project.outline.form)) return;
    const Vec2 across = plan.outline->corners_mm.front() - plan.outline->corners_mm.back();
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
