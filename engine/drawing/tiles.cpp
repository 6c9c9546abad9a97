#include "drawing/tiles.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

namespace boardring {
namespace {

// A side of the window: points with dot(n, p) <= c lie inside.
struct HalfPlane {
    Vec2 n;
    double c = 0.0;
    [[nodiscard]] double beyond(Vec2 p) const { return dot(n, p) - c; }
};

using Window = std::array<HalfPlane, 4>;

Window window(Vec2 low, Vec2 high) {
    return {HalfPlane{{-1.0, 0.0}, -low.x}, {{1.0, 0.0}, high.x}, {{0.0, -1.0}, -low.y}, {{0.0, 1.0}, high.y}};
}

Vec2 crossing(Vec2 a, Vec2 b, double beyond_a, double beyond_b) {
    return a + (beyond_a / (beyond_a - beyond_b)) * (b - a);
}

std::optional<std::array<Vec2, 2>> cut_segment(Vec2 a, Vec2 b, const Window& window) {
    for (const HalfPlane& side : window) {
        const double at_a = side.beyond(a), at_b = side.beyond(b);
        if (at_a > 0.0 && at_b > 0.0) return std::nullopt;
        if (at_a > 0.0) a = crossing(a, b, at_a, at_b);
        else if (at_b > 0.0) b = crossing(a, b, at_a, at_b);
    }
    return std::array{a, b};
}

std::vector<Vec2> cut_region(std::vector<Vec2> points, const Window& window) {
    for (const HalfPlane& side : window) {
        std::vector<Vec2> kept;
        for (std::size_t i = 0; i < points.size(); ++i) {
            const Vec2 a = points[i], b = points[(i + 1) % points.size()];
            const double at_a = side.beyond(a), at_b = side.beyond(b);
            if (at_a <= 0.0) kept.push_back(a);
            if ((at_a > 0.0) != (at_b > 0.0)) kept.push_back(crossing(a, b, at_a, at_b));
        }
        points = std::move(kept);
    }
    return points;
}

bool inside(Vec2 p, const Window& window) {
    return std::all_of(window.begin(), window.end(), [&](const HalfPlane& side) { return side.beyond(p) <= 0.0; });
}

// A stroke that stays inside is kept whole (its dashes run on); any other becomes its segments.
void cut_stroke(const Stroke& stroke, const Window& window, Vec2 shift, Drawing& to) {
    if (std::all_of(stroke.points.begin(), stroke.points.end(), [&](Vec2 p) { return inside(p, window); })) {
        Stroke moved = stroke;
        for (Vec2& p : moved.points) p = p + shift;
        to.strokes.push_back(std::move(moved));
        return;
    }
    const std::size_t segments = stroke.points.size() - (stroke.closed ? 0U : 1U);
    for (std::size_t i = 0; i < segments; ++i) {
        const auto cut = cut_segment(stroke.points[i], stroke.points[(i + 1) % stroke.points.size()], window);
        if (cut && !((*cut)[0] == (*cut)[1])) to.strokes.push_back({stroke.pen, {(*cut)[0] + shift, (*cut)[1] + shift}, false});
    }
}

}  // namespace

Drawing cut_out(const Drawing& from, Vec2 low, Vec2 high, Vec2 shift) {
    const Window sides = window(low, high);
    Drawing to;
    for (const Region& region : from.regions) {
        Region cut{region.fill, cut_region(region.points, sides)};
        if (cut.points.size() < 3) continue;
        for (Vec2& p : cut.points) p = p + shift;
        to.regions.push_back(std::move(cut));
    }
    for (const Stroke& stroke : from.strokes) cut_stroke(stroke, sides, shift, to);
    for (Circle circle : from.circles) {
        const Vec2 reach{circle.radius, circle.radius};
        if (!inside(circle.centre - reach, sides) || !inside(circle.centre + reach, sides)) continue;
        circle.centre = circle.centre + shift;
        to.circles.push_back(circle);
    }
    for (Label label : from.labels) {
        const std::array<Vec2, 4> box = label_box(label);
        if (!std::all_of(box.begin(), box.end(), [&](Vec2 p) { return inside(p, sides); })) continue;
        label.at = label.at + shift;
        to.labels.push_back(std::move(label));
    }
    return to;
}

std::vector<Vec2> tile_corners(Vec2 extent, Vec2 size, double overlap) {
    const auto starts = [overlap](double whole, double tile) {
        std::vector<double> at{0.0};
        if (whole <= tile) return at;
        const double count = std::ceil((whole - overlap) / (tile - overlap));
        for (double i = 1.0; i < count; i += 1.0) at.push_back(i * (whole - tile) / (count - 1.0));
        return at;
    };
    const std::vector<double> columns = starts(extent.x, size.x), rows = starts(extent.y, size.y);
    std::vector<Vec2> corners;
    for (auto row = rows.rbegin(); row != rows.rend(); ++row) {
        for (const double column : columns) corners.push_back({column, *row});
    }
    return corners;
}

}  // namespace boardring
