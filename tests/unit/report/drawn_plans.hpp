#pragma once
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/angle.hpp"
#include "plan/plan.hpp"
#include "project/project.hpp"
#include "support/random.hpp"

namespace boardring_test {

// Projects written in code, for tests of drawings.

template <class Form>
boardring::Project project_of(std::string title, Form form, std::vector<double> joint_widths_mm, bool open = false,
                              boardring::Lie lie = boardring::Lie::on_edge) {
    using namespace boardring;
    Project p;
    p.title = std::move(title);
    p.outline.form = std::move(form);
    p.outline.open = open;
    p.lie = lie;
    const std::size_t n = joint_widths_mm.size();
    for (const double w : joint_widths_mm) {
        BoardAsked board;
        board.width_mm = lie == Lie::flat ? w : 145.0;
        board.thickness_mm = lie == Lie::flat ? 20.0 : w;
        p.boards.push_back(board);
    }
    p.joints.resize(open ? n + 1 : n);
    p.outline.margin_mm.assign(n, 0.0);
    return p;
}

/// Corners of a chain from sides and interior angles (angle i at the end of side i).
inline boardring::PointsOutline walked(const std::vector<double>& sides_mm, const std::vector<double>& interior_deg, bool open) {
    boardring::PointsOutline points;
    boardring::Vec2 at;
    double direction = 0.0;
    for (std::size_t i = 0; i < sides_mm.size(); ++i) {
        points.points_mm.push_back(at);
        at = at + sides_mm[i] * boardring::unit_deg(direction);
        if (i < interior_deg.size()) direction += 180.0 - interior_deg[i];
    }
    if (open) points.points_mm.push_back(at);
    return points;
}

/// A convex ring of n corners on a rough circle, boards of mixed width.
inline boardring::Project random_ring(Random& random, std::size_t n, double radius_mm, double width_mm) {
    boardring::PointsOutline points;
    for (std::size_t i = 0; i < n; ++i) {
        const double turn = 360.0 * (static_cast<double>(i) + random.between(-0.25, 0.25)) / static_cast<double>(n);
        points.points_mm.push_back(radius_mm * random.between(0.95, 1.05) * boardring::unit_deg(turn));
    }
    std::vector<double> widths;
    for (std::size_t i = 0; i < n; ++i) widths.push_back(width_mm * random.between(0.7, 1.3));
    if (random.chance(0.3)) {  // a list of points that runs clockwise has clockwise letters
        for (boardring::Vec2& v : points.points_mm) v.y = -v.y;
    }
    boardring::Project p = project_of("Ring of " + std::to_string(n), points, widths);
    p.outline.line = static_cast<boardring::OutlineLine>(random.index(3));
    return p;
}

inline boardring::Project hexagon_planter() {
    return project_of("Courtyard planter", boardring::RegularOutline{6, boardring::RegularOutline::Of::over_flats, 640.0},
                      {38.0, 38.0, 38.0, 28.0, 38.0, 38.0});
}

inline boardring::Project pentagon_bed() {
    boardring::Project p =
        project_of("Five-sided bed", walked({900, 820, 760, 936, 774}, {115, 97, 122, 98}, false), {47, 38, 38, 25, 47});
    return p;
}

inline boardring::Project octagon_window() {
    boardring::Project p =
        project_of("Stair window", boardring::RegularOutline{8, boardring::RegularOutline::Of::over_flats, 600.0},
                   std::vector<double>(8, 90.0), false, boardring::Lie::flat);
    p.outline.margin_mm.assign(8, 6.0);
    p.outline.seen_from_room = true;
    return p;
}

inline boardring::Project l_shaped_bed() {
    boardring::PointsOutline points;
    points.points_mm = {{0, 0}, {2400, 0}, {2400, 900}, {1000, 900}, {1000, 2000}, {0, 2000}};
    boardring::Project p = project_of("Herb corner", points, std::vector<double>(6, 45.0));
    p.outline.line = boardring::OutlineLine::outside;
    return p;
}

inline boardring::Project door_casing() {
    boardring::ReadingsOutline unused;
    boardring::Project p =
        project_of("Pantry door", walked({2040, 820, 2032}, {90.4, 89.6}, true), {70, 95, 70}, true, boardring::Lie::flat);
    p.outline.margin_mm.assign(3, 6.0);
    p.outline.seen_from_room = true;
    p.first_end.saw_deg = 1.2;
    p.last_end.saw_deg = -0.8;
    for (boardring::Vec2& v : std::get<boardring::PointsOutline>(p.outline.form).points_mm) v = boardring::left_of(v);
    return p;
}

inline boardring::Project wall_planter() {
    return project_of("Wall planter", walked({248.5, 497.1, 497.1, 497.1, 248.5}, {135, 135, 135, 135}, true),
                      std::vector<double>(5, 32.0), true);
}

inline boardring::Project lapped_frame() {
    boardring::Project p =
        project_of("Cold frame", boardring::RectangleOutline{1200.0, 600.0}, {70, 95, 70, 95}, false, boardring::Lie::flat);
    p.outline.line = boardring::OutlineLine::outside;
    for (boardring::JointAsked& joint : p.joints) joint.kind = boardring::JointKind::half_lap;
    return p;
}

inline boardring::Project gate_arch() {
    return project_of("Gate arch", boardring::ArcOutline{900.0, 180.0, 7, boardring::ArcOutline::Fits::corners},
                      std::vector<double>(7, 120.0), true, boardring::Lie::flat);
}

}  // namespace boardring_test
