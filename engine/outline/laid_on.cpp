#include "outline/laid_on.hpp"

#include <cmath>
#include <cstddef>

#include "base/ensure.hpp"

namespace boardring {

std::vector<Vec2> laid_on(const std::vector<Vec2>& points, const std::vector<Vec2>& targets, const std::vector<bool>& counts) {
    ENSURE(points.size() == targets.size() && points.size() == counts.size());
    Vec2 from, to;
    double count = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (!counts[i]) continue;
        from = from + points[i];
        to = to + targets[i];
        count += 1.0;
    }
    ENSURE(count > 0.0);
    from = (1.0 / count) * from;
    to = (1.0 / count) * to;
    double along = 0.0, across = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (!counts[i] && count > 1.0) continue;
        along += dot(points[i] - from, targets[i] - to);
        across += cross(points[i] - from, targets[i] - to);
    }
    const double size = std::hypot(along, across);
    const double cosine = size > 0.0 ? along / size : 1.0, sine = size > 0.0 ? across / size : 0.0;
    std::vector<Vec2> laid;
    for (const Vec2 p : points) laid.push_back(to + turned(p - from, cosine, sine));
    return laid;
}

}  // namespace boardring
