#include "drawing/paper_space.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace boardring {
namespace {

struct Span {
    double low = 0.0;
    double high = 0.0;
};

Span shadow(std::span<const Vec2> shape, Vec2 axis) {
    Span s{dot(shape[0], axis), dot(shape[0], axis)};
    for (const Vec2 p : shape) {
        s.low = std::min(s.low, dot(p, axis));
        s.high = std::max(s.high, dot(p, axis));
    }
    return s;
}

double gap_along(std::span<const Vec2> a, std::span<const Vec2> b, Vec2 axis) {
    const Span sa = shadow(a, axis);
    const Span sb = shadow(b, axis);
    return std::max(sb.low - sa.high, sa.low - sb.high);
}

// Best gap over the edge normals of `a`; a segment also offers its own direction.
double best_gap(std::span<const Vec2> a, std::span<const Vec2> b) {
    double best = -std::numeric_limits<double>::infinity();
    const std::size_t edges = a.size() > 2 ? a.size() : a.size() - 1;
    for (std::size_t i = 0; i < edges; ++i) {
        const Vec2 edge = a[(i + 1) % a.size()] - a[i];
        const double size = length(edge);
        if (size == 0.0) continue;
        const Vec2 along = (1.0 / size) * edge;
        best = std::max(best, gap_along(a, b, left_of(along)));
        if (a.size() == 2) best = std::max(best, gap_along(a, b, along));
    }
    return best;
}

void box_of(std::span<const Vec2> shape, Vec2& low, Vec2& high) {
    low = high = shape[0];
    for (const Vec2 p : shape) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
}

long long cell_key(long long column, long long row) {
    return column * 4'000'037LL + row;
}

template <class Visit>
void for_cells(Vec2 low, Vec2 high, double cell, Visit visit) {
    const auto first_column = static_cast<long long>(std::floor(low.x / cell));
    const auto last_column = static_cast<long long>(std::floor(high.x / cell));
    const auto first_row = static_cast<long long>(std::floor(low.y / cell));
    const auto last_row = static_cast<long long>(std::floor(high.y / cell));
    for (long long c = first_column; c <= last_column; ++c) {
        for (long long r = first_row; r <= last_row; ++r) {
            if (!visit(cell_key(c, r))) return;
        }
    }
}

}  // namespace

double convex_gap(std::span<const Vec2> a, std::span<const Vec2> b) {
    const double best = std::max(best_gap(a, b), best_gap(b, a));
    if (std::isfinite(best)) return best;
    return length(b[0] - a[0]);  // two points
}

void PaperSpace::take(What what, std::span<const Vec2> shape, std::optional<std::size_t> owner) {
    Taken t{what, owner, {shape.begin(), shape.end()}, {}, {}};
    box_of(shape, t.low, t.high);
    const std::size_t index = taken_.size();
    for_cells(t.low, t.high, cell_, [&](long long key) {
        cells_[key].push_back(index);
        return true;
    });
    taken_.push_back(std::move(t));
}

bool PaperSpace::is_free(unsigned what, std::span<const Vec2> shape, double gap, std::optional<std::size_t> past_owner) const {
    Vec2 low;
    Vec2 high;
    box_of(shape, low, high);
    const double reach = std::max(gap, 0.0);
    low = low - Vec2{reach, reach};
    high = high + Vec2{reach, reach};
    bool free = true;
    for_cells(low, high, cell_, [&](long long key) {
        const auto found = cells_.find(key);
        if (found == cells_.end()) return true;
        for (const std::size_t i : found->second) {
            const Taken& t = taken_[i];
            if ((t.what & what) == 0U || (past_owner && t.owner == past_owner)) continue;
            if (t.low.x > high.x || t.high.x < low.x || t.low.y > high.y || t.high.y < low.y) continue;
            if (convex_gap(t.shape, shape) < gap) {
                free = false;
                return false;
            }
        }
        return true;
    });
    return free;
}

}  // namespace boardring
