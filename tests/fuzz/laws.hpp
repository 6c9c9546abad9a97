#pragma once
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "fuzz/driver.hpp"
#include "joinery/mitre.hpp"
#include "plan/plan.hpp"
#include "support/world_frame.hpp"

namespace boardring_test {

/// Every mark of a planned frame against a second construction, within the bound that docs/accuracy.md states. A slip of the engine that
/// no finding tells ends the program.
inline void marks_must_be_right(const boardring::Plan& plan) {
    if (!plan.frame || !plan.outline) return;
    for (const boardring::BoardAsked& board : plan.project.boards) {
        if (board.taper_mm != 0.0) return;  // their second construction stands in tests/property
    }
    const boardring::Outline& outline = *plan.outline;
    const boardring::Frame& frame = plan.exact_frame();
    const WorldFrame world(plan.project, outline);
    double largest = 0.0;
    for (const boardring::Vec2& p : outline.corners_mm) largest = std::max({largest, std::abs(p.x), std::abs(p.y)});
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        const boardring::Board& board = frame.boards[k];
        double bound = 0.0;
        for (const boardring::BoardEnd& end : board.ends) {
            const double turn = std::abs(outline.turn_deg[end.corner]);
            // Flat corners, and needles sharper than those property_extreme_frames_test holds to the bare bound: a mark lies w / |sin T| away.
            const bool divides = (turn < 1.0 && turn >= boardring::kStraightTurnDeg) || turn > 179.5;
            bound = std::max(bound, 1e-9 * largest / (divides ? boardring::sin_deg(turn) : 1.0));
        }
        const std::array<boardring::Vec2, 4> here = board.plan_mm();
        for (std::size_t i = 0; i < here.size(); ++i) {
            const auto there = world.boards[k].plan[i];
            const long double apart = std::hypot(static_cast<long double>(here[i].x) - there.x, static_cast<long double>(here[i].y) - there.y);
            must(apart <= static_cast<long double>(bound), fmt::format("board {}, point {}: {} mm off, {} allowed", k + 1, i, static_cast<double>(apart), bound));
        }
    }
}

}  // namespace boardring_test
