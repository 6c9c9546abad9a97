#pragma once
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "base/vec2.hpp"
#include "outline/outline.hpp"
#include "project/project.hpp"

namespace boardring_test {

/// An outline through points given counter-clockwise, made without engine/outline: turns from the cross and the dot product of
/// neighbouring sides, so that nearly straight corners keep their digits.
inline boardring::Outline outline_through(const std::vector<boardring::Vec2>& corners, bool closed = true) {
    using boardring::Vec2;
    boardring::Outline outline;
    outline.closed = closed;
    outline.corners_mm = corners;
    const std::size_t n = closed ? corners.size() : corners.size() - 1;
    std::vector<Vec2> sides;
    for (std::size_t k = 0; k < n; ++k) {
        sides.push_back(corners[(k + 1) % corners.size()] - corners[k]);
        outline.sides_mm.push_back(boardring::length(sides.back()));
        outline.direction_deg.push_back(boardring::direction_deg(sides.back()));
    }
    for (std::size_t c = 0; c < corners.size(); ++c) {
        double turn = 0.0;
        if (outline.is_joint(c)) {
            const Vec2 before = sides[outline.board_before(c)];
            const Vec2 after = sides[outline.board_after(c)];
            turn = boardring::degrees(std::atan2(boardring::cross(before, after), boardring::dot(before, after)));
        }
        outline.turn_deg.push_back(turn);
        outline.interior_deg.push_back(180.0 - turn);
    }
    return outline;
}

/// A regular ring with side 0 along +x from the origin and exact turns.
inline boardring::Outline regular_ring(std::size_t corners, double side_mm) {
    boardring::Outline outline;
    const double turn = 360.0 / static_cast<double>(corners);
    boardring::Vec2 at;
    for (std::size_t k = 0; k < corners; ++k) {
        outline.corners_mm.push_back(at);
        outline.sides_mm.push_back(side_mm);
        outline.turn_deg.push_back(turn);
        outline.interior_deg.push_back(180.0 - turn);
        outline.direction_deg.push_back(boardring::wrapped_deg(turn * static_cast<double>(k)));
        at = at + side_mm * boardring::unit_deg(turn * static_cast<double>(k));
    }
    return outline;
}

/// A project for that outline with one board of each given width in the joint (on edge: thicknesses), all 145 mm high, mitred,
/// outline along the inside. Pointers name corner and board, so that findings can be told apart.
inline boardring::Project project_for(const boardring::Outline& outline, const std::vector<double>& widths_mm) {
    boardring::Project project;
    project.lie = boardring::Lie::on_edge;
    project.outline.open = !outline.closed;
    for (std::size_t k = 0; k < outline.boards(); ++k) {
        boardring::BoardAsked board;
        board.thickness_mm = widths_mm[k % widths_mm.size()];
        board.width_mm = 145.0;
        board.pointer = "/boards/" + std::to_string(k + 1);
        project.boards.push_back(board);
        project.outline.margin_mm.push_back(0.0);
    }
    for (std::size_t c = 0; c < outline.corners_mm.size(); ++c) {
        boardring::JointAsked joint;
        joint.pointer = "/joints/" + std::to_string(c);
        project.joints.push_back(joint);
    }
    return project;
}

}  // namespace boardring_test
