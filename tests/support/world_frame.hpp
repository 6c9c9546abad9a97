#pragma once
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include "outline/outline.hpp"
#include "project/project.hpp"

namespace boardring_test {

// The second construction: every mark as the meeting point of two lines laid out in world coordinates, found by solving two
// linear equations in long double. It shares no formula, no angle and no sign rule with engine/joinery.

struct Point {
    long double x = 0.0L;
    long double y = 0.0L;
};

struct Line {
    Point at;
    Point along;  ///< unit
};

inline Point meet(const Line& a, const Line& b) {
    // a.at + s a.along = b.at + u b.along
    const long double det = a.along.y * b.along.x - a.along.x * b.along.y;
    const long double dx = b.at.x - a.at.x;
    const long double dy = b.at.y - a.at.y;
    const long double s = (dy * b.along.x - dx * b.along.y) / det;
    return {a.at.x + s * a.along.x, a.at.y + s * a.along.y};
}

/// A board's four corners as in Board::plan_mm, and the marks of its laps' shoulders [end][inside, outside].
struct WorldBoard {
    std::array<Point, 4> plan;
    std::array<bool, 2> lapped{};
    std::array<std::array<Point, 2>, 2> shoulder;
    Point along;
};

class WorldFrame {
public:
    WorldFrame(const boardring::Project& project, const boardring::Outline& outline) : project_(project), outline_(outline) {
        for (std::size_t k = 0; k < outline.boards(); ++k) boards.push_back(board(k));
    }

    std::vector<WorldBoard> boards;

    /// Signed length of board k's inside (q = 0) or outside (q = 1) edge.
    [[nodiscard]] long double edge_mm(std::size_t k, int q) const {
        const Point a = boards[k].plan[q == 0 ? 0 : 1];
        const Point b = boards[k].plan[q == 0 ? 3 : 2];
        return (b.x - a.x) * boards[k].along.x + (b.y - a.y) * boards[k].along.y;
    }
    [[nodiscard]] std::size_t through(std::size_t c) const {
        const boardring::JointAsked& joint = project_.joints[c];
        const std::size_t before = outline_.board_before(c);
        const std::size_t after = outline_.board_after(c);
        if (joint.through) return *joint.through;
        return outline_.sides_mm[before] > outline_.sides_mm[after] * (1.0 + 1e-9) ? before : after;
    }

private:
    const boardring::Project& project_;
    const boardring::Outline& outline_;

    [[nodiscard]] long double offset(std::size_t k, bool outside) const {
        const auto width = static_cast<long double>(project_.width_in_joint_mm(k));
        long double a = static_cast<long double>(project_.outline.margin_mm[k]);
        if (project_.outline.line == boardring::OutlineLine::outside) a -= width;
        if (project_.outline.line == boardring::OutlineLine::middle) a -= width / 2.0L;
        return outside ? a + width : a;
    }
    [[nodiscard]] Point corner(std::size_t c) const {
        return {static_cast<long double>(outline_.corners_mm[c].x), static_cast<long double>(outline_.corners_mm[c].y)};
    }
    [[nodiscard]] Point along(std::size_t k) const {
        const Point a = corner(k);
        const Point b = corner(outline_.corner_after(k));
        const long double side = std::hypot(b.x - a.x, b.y - a.y);
        return {(b.x - a.x) / side, (b.y - a.y) / side};
    }
    // Board k's inside or outside line, through the given corner of the outline moved outward.
    [[nodiscard]] Line line(std::size_t k, std::size_t through_corner, bool outside) const {
        const Point d = along(k);
        const Point c = corner(through_corner);
        const long double q = offset(k, outside);
        return {{c.x + q * d.y, c.y - q * d.x}, d};
    }
    // Where board k's line ends at corner c against the other board's line; where both are one line, square to it.
    [[nodiscard]] Point end_point(std::size_t k, std::size_t c, bool outside, std::size_t other, bool others_outside) const {
        const Line own = line(k, c, outside);
        if (std::abs(outline_.turn_deg[c]) < 1e-6) return own.at;
        return meet(own, line(other, c, others_outside));
    }
    [[nodiscard]] Point free_point(std::size_t k, std::size_t c, bool outside, double saw_deg, long double towards) const {
        const Line own = line(k, c, outside);
        const long double reach =
            offset(k, outside) * std::tan(static_cast<long double>(saw_deg) * 3.14159265358979323846264338327950288L / 180.0L);
        return {own.at.x + towards * reach * own.along.x, own.at.y + towards * reach * own.along.y};
    }
    void set_end(WorldBoard& made, std::size_t k, std::size_t end) const {
        const std::size_t c = end == 0 ? k : outline_.corner_after(k);
        const std::size_t in = end == 0 ? 0 : 3;
        const std::size_t out = end == 0 ? 1 : 2;
        if (!outline_.is_joint(c)) {
            const double saw = end == 0 ? project_.first_end.saw_deg : project_.last_end.saw_deg;
            made.plan[in] = free_point(k, c, false, saw, end == 0 ? -1.0L : 1.0L);
            made.plan[out] = free_point(k, c, true, saw, end == 0 ? -1.0L : 1.0L);
            return;
        }
        const std::size_t other = end == 0 ? outline_.board_before(c) : outline_.board_after(c);
        const boardring::JointKind kind = project_.joints[c].kind;
        const bool far_is_outside = outline_.interior_deg[c] < 180.0;
        if (kind == boardring::JointKind::mitre) {
            made.plan[in] = end_point(k, c, false, other, false);
            made.plan[out] = end_point(k, c, true, other, true);
            return;
        }
        const bool to_far = kind == boardring::JointKind::half_lap || through(c) == k;
        const bool line_outside = to_far ? far_is_outside : !far_is_outside;
        made.plan[in] = end_point(k, c, false, other, line_outside);
        made.plan[out] = end_point(k, c, true, other, line_outside);
        if (kind == boardring::JointKind::half_lap) {
            made.lapped[end] = true;
            made.shoulder[end] = {end_point(k, c, false, other, !far_is_outside), end_point(k, c, true, other, !far_is_outside)};
        }
    }
    [[nodiscard]] WorldBoard board(std::size_t k) const {
        WorldBoard made;
        made.along = along(k);
        set_end(made, k, 0);
        set_end(made, k, 1);
        return made;
    }
};

}  // namespace boardring_test
