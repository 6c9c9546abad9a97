#pragma once
#include <vector>

#include "plan/plan.hpp"

namespace boardring {

// The last steps of make_plan: from the frame's numbers, fixed under perturbation, to what a maker reads.

/// Boards with marks from their datum, a square line at the leftmost mark, outside edge towards the maker: with
/// counter-clockwise letters the first corner lies at the left, with clockwise letters at the right.
std::vector<ShownBoard> show_boards(const Project& project, const Outline& outline, const Frame& frame, const CutList& cuts);

/// Diagonals that can be measured (inside the ring, or across the gap of an open chain), halves that can be trued on a
/// straight edge (both end faces lie along the line that parts them, within kTrueFaceDeg), and the board to fit last.
Assembly plan_assembly(const Project& project, const Frame& frame);

/// Faces of a half-ring are worth truing when both lie within this of the parting line [deg].
inline constexpr double kTrueFaceDeg = 0.5;

/// Areas, boxes, flats, height, volume and weights. Densities are common practice: dry timber 400 to 700 kg/m3, wet soil 1,600 to 2,000.
/// Boxes are along and up the plan as it is drawn (PlanView): the outside one holds all of the wood, the inside one the inner line.
Totals total_up(const Project& project, const Outline& outline, const Frame& frame);

/// Signed area of a polygon, + counter-clockwise [mm2].
double polygon_area_mm2(const std::vector<Vec2>& points);

}  // namespace boardring
