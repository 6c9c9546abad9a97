#include "outline/chain.hpp"

#include "base/angle.hpp"

namespace boardring {

Walk walk(const Chain& chain) {
    const std::size_t n = chain.sides();
    Walk walked;
    walked.corners_mm.reserve(n + 1);
    walked.direction_deg.reserve(n);
    walked.along.reserve(n);
    CarefulSum direction, x, y;
    for (std::size_t k = 0; k < n; ++k) {
        walked.corners_mm.push_back({x.value(), y.value()});
        if (k > 0) direction.add(turn_of(chain.interior_deg[k]));
        const double deg = wrapped_deg(direction.value()) + 0.0;  // no -0: it would reach the papers
        const Vec2 along = unit_deg(deg);
        walked.direction_deg.push_back(deg);
        walked.along.push_back(along);
        x.add(chain.sides_mm[k] * along.x);
        y.add(chain.sides_mm[k] * along.y);
    }
    walked.end_mm = {x.value(), y.value()};
    if (!chain.closed) walked.corners_mm.push_back(walked.end_mm);
    return walked;
}

double perimeter_mm(const Chain& chain) {
    CarefulSum sum;
    for (const double side : chain.sides_mm) sum.add(side);
    return sum.value();
}

double angle_misfit_deg(const Chain& chain) {
    // Turns add up to 360: summing them instead of the angles keeps the sum small whatever the number of corners.
    CarefulSum turns;
    for (const double interior : chain.interior_deg) turns.add(turn_of(interior));
    turns.add(-360.0);
    return -turns.value();
}

Chain with_equal_shares(Chain chain) {
    const double misfit_deg = angle_misfit_deg(chain);
    for (double& interior : chain.interior_deg) interior -= misfit_deg / static_cast<double>(chain.sides());
    return chain;
}

}  // namespace boardring
