#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "base/vec2.hpp"
#include "outline/outline.hpp"
#include "project/joint_kinds.hpp"
#include "support/random.hpp"
#include "support/ring.hpp"

namespace boardring_test {

/// A random frame to be built: an outline and what is asked of the boards round it.
struct FrameCase {
    boardring::Outline outline;
    boardring::Project project;
};

namespace random_frame {

using boardring::Vec2;

inline double interior_at(const std::vector<Vec2>& p, std::size_t c) {
    const std::size_t n = p.size();
    const Vec2 before = p[c] - p[(c + n - 1) % n];
    const Vec2 after = p[(c + 1) % n] - p[c];
    return 180.0 - boardring::degrees(std::atan2(boardring::cross(before, after), boardring::dot(before, after)));
}

inline bool angles_wanted(const std::vector<Vec2>& p) {
    for (std::size_t c = 0; c < p.size(); ++c) {
        const double interior = interior_at(p, c);
        if (interior < 15.0 || interior > 345.0) return false;
    }
    return true;
}

/// Corners seen from the middle in order of their direction, at random distances: simple, with inward corners.
inline std::optional<std::vector<Vec2>> star(Random& random, std::size_t n) {
    std::vector<double> gaps(n);
    double sum = 0.0;
    const double uneven = random.between(0.0, 0.9);
    for (double& gap : gaps) sum += gap = 1.0 - uneven * random.unit();
    const double jagged = random.between(0.0, std::min(0.7, 8.0 / static_cast<double>(n)));
    std::vector<Vec2> points;
    double at = 0.0;
    for (const double gap : gaps) {
        const double turn = 360.0 * gap / sum;
        if (turn > 170.0) return std::nullopt;
        at += turn;
        points.push_back((1.0 - jagged * random.unit()) * boardring::unit_deg(at));
    }
    if (!angles_wanted(points)) return std::nullopt;
    return points;
}

/// Exact right angles, inward ones among them: a rectangle with rectangular notches in its sides (n = 4 + 4 m).
inline std::vector<Vec2> notched(Random& random, std::size_t notches) {
    const double wide = random.between(1.0, 3.0);
    std::vector<Vec2> points = {{0.0, 0.0}};
    const double step = wide / (3.0 * static_cast<double>(notches) + 1.0);
    for (std::size_t i = 0; i < notches; ++i) {
        const double left = (3.0 * static_cast<double>(i) + 1.0) * step;
        const double deep = random.between(0.1, 0.6);
        points.insert(points.end(), {{left, 0.0}, {left, deep}, {left + 2.0 * step, deep}, {left + 2.0 * step, 0.0}});
    }
    points.insert(points.end(), {{wide, 0.0}, {wide, 1.0}, {0.0, 1.0}});
    return points;
}

/// A new corner on a side, straight or turning by 1e-5 to 1 degree.
inline void add_straightish(Random& random, std::vector<Vec2>& points) {
    const std::size_t k = random.index(points.size());
    const Vec2 a = points[k];
    const Vec2 side = points[(k + 1) % points.size()] - a;
    const double bend = random.chance(0.5)
                            ? 0.0
                            : (random.chance(0.5) ? 1.0 : -1.0) * std::tan(boardring::radians(random.log_between(1e-5, 1.0)));
    const Vec2 between = a + random.between(0.3, 0.7) * side + 0.25 * bend * boardring::right_of(side);
    points.insert(points.begin() + static_cast<std::ptrdiff_t>(k) + 1, between);
}

inline bool segments_meet(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
    const double abc = boardring::cross(b - a, c - a);
    const double abd = boardring::cross(b - a, d - a);
    const double cda = boardring::cross(d - c, a - c);
    const double cdb = boardring::cross(d - c, b - c);
    return abc * abd <= 0.0 && cda * cdb <= 0.0;
}

/// An open walk with turns up to 165 degrees either way that does not cross itself.
inline std::optional<std::vector<Vec2>> walk(Random& random, std::size_t n) {
    std::vector<Vec2> points = {{0.0, 0.0}};
    double heading = 0.0;
    const double sharpest = random.chance(0.2) ? 165.0 : random.between(30.0, 165.0);
    for (std::size_t k = 0; k < n; ++k) {
        if (k > 0)
            heading += random.chance(0.1) ? (random.chance(0.5) ? sharpest : -sharpest) : random.between(-sharpest, sharpest);
        const Vec2 next = points.back() + random.between(0.3, 1.0) * boardring::unit_deg(heading);
        for (std::size_t j = 0; j + 2 < points.size(); ++j) {
            if (segments_meet(points[j], points[j + 1], points.back(), next)) return std::nullopt;
        }
        points.push_back(next);
    }
    return points;
}

inline std::vector<Vec2> shape(Random& random, bool closed) {
    for (;;) {
        const std::size_t n = 3 + random.index(38);
        if (!closed && random.chance(0.4)) {
            const std::optional<std::vector<Vec2>> points = walk(random, 2 + random.index(11));
            if (points) return *points;
            continue;
        }
        std::vector<Vec2> points;
        const double kind = random.unit();
        if (kind < 0.12 && n >= 8) {
            points = notched(random, (n - 4) / 4);
        } else if (kind < 0.2) {
            for (std::size_t k = 0; k < n; ++k)
                points.push_back(boardring::unit_deg(360.0 * static_cast<double>(k) / static_cast<double>(n)));
        } else {
            const std::optional<std::vector<Vec2>> made = star(random, n);
            if (!made) continue;
            points = *made;
        }
        if (points.size() < 38 && random.chance(0.25)) add_straightish(random, points);
        if (points.size() < 38 && random.chance(0.1)) add_straightish(random, points);
        const auto start = static_cast<std::ptrdiff_t>(random.index(points.size()));
        std::rotate(points.begin(), points.begin() + start, points.end());
        return points;
    }
}

inline void ask_widths(Random& random, const boardring::Outline& outline, double base_mm, std::vector<double>& widths,
                       std::vector<double>& margins) {
    const std::size_t n = outline.boards();
    const double spread = random.chance(0.2) ? 1.0 : std::sqrt(5.0);
    const double margin_most = random.chance(0.4) ? 0.0 : 0.4 * base_mm;
    const double margin_all = random.between(0.0, margin_most);
    const bool by_board = random.chance(0.5);
    for (std::size_t k = 0; k < n; ++k) {
        widths.push_back(base_mm * random.log_between(1.0 / spread, spread));
        margins.push_back(by_board ? random.between(0.0, margin_most) : margin_all);
    }
    // Boards that run on in one line must be alike, and nearly always are where they nearly do (else the mark flies off and the
    // frame cannot be built); twice round, so that a run across board 1 is alike too.
    const bool all_nearly_straight_alike = random.chance(0.9);
    for (std::size_t i = 0; i < 2 * n; ++i) {
        const std::size_t c = i % n;
        if (!outline.is_joint(c)) continue;
        if (std::abs(outline.turn_deg[c]) < (all_nearly_straight_alike ? 1.1 : boardring::kStraightTurnDeg)) {
            widths[c] = widths[outline.board_before(c)];
            margins[c] = margins[outline.board_before(c)];
        }
    }
}

}  // namespace random_frame

/// 3 to 40 boards (open walks from 2), closed or open, inward, straight and nearly straight corners, interior angles 15 to 345,
/// neighbours' widths 0.2 to 5 of each other, all joint kinds, all three lines, margins; anywhere, any way round, 50 mm to 20 m.
/// `slimmer` halves all widths that many times: for a frame that could not be built.
inline FrameCase random_frame_case(std::uint64_t seed, int slimmer = 0) {
    using namespace boardring;
    Random random(seed);
    const bool closed = random.chance(0.7);
    std::vector<Vec2> points = random_frame::shape(random, closed);
    const double size = random.log_between(50.0, 20000.0);
    const double angle = random.between(0.0, 360.0);
    const double far = random.chance(0.5) ? 0.0 : random.log_between(1.0, 1e5);
    const Vec2 middle = far * unit_deg(random.between(0.0, 360.0));
    for (Vec2& p : points) p = middle + size * turned(p, cos_deg(angle), sin_deg(angle));

    FrameCase made;
    made.outline = outline_through(points, closed);
    std::vector<double> sides = made.outline.sides_mm;
    std::sort(sides.begin(), sides.end());
    const double base = sides[sides.size() / 2] * random.log_between(0.003, 0.25) * std::pow(0.5, slimmer);
    std::vector<double> widths;
    std::vector<double> margins;
    random_frame::ask_widths(random, made.outline, base, widths, margins);

    Project& project = made.project;
    project = project_for(made.outline, widths);
    project.outline.margin_mm = margins;
    project.outline.line = std::array{OutlineLine::inside, OutlineLine::outside, OutlineLine::middle}[random.index(3)];
    const std::size_t one_kind = random.index(kJointKinds.size() + 2);
    for (std::size_t c = 0; c < made.outline.corners_mm.size(); ++c) {
        JointAsked& joint = project.joints[c];
        joint.kind = kJointKinds[one_kind < kJointKinds.size() ? one_kind : random.index(kJointKinds.size())];
        if (!made.outline.is_joint(c)) continue;
        if (std::abs(made.outline.turn_deg[c]) < 3.0) joint.kind = JointKind::mitre;
        if (random.chance(0.6)) joint.through = random.chance(0.5) ? made.outline.board_before(c) : made.outline.board_after(c);
    }
    if (random.chance(0.5)) {
        for (BoardAsked& board : project.boards) board.width_mm = random.between(20.0, 200.0);
    }
    project.first_end.saw_deg = random.chance(0.3) ? 0.0 : random.between(-60.0, 60.0);
    project.last_end.saw_deg = random.chance(0.3) ? 0.0 : random.between(-60.0, 60.0);
    return made;
}

}  // namespace boardring_test
