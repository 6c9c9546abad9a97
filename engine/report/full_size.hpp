#pragma once
#include <vector>

#include "drawing/drawing.hpp"
#include "plan/plan.hpp"

namespace boardring {

/// Sheets at full size, 1 mm of paper to 1 mm of wood, for a bevel, a knife or a template of card; each fits both common papers:
/// every distinct slope as a wedge (the exact angle, not the saw's step), every distinct corner as a block to clamp over, and every
/// distinct end of a board mark for mark with its waste hatched. Every sheet carries check bars of 100 mm and 4 in, level and upright, and says
/// how to print and what paper is not good for. An end that is larger than a sheet goes over several, overlapping by 10 mm with
/// crosses to lay over each other; one that would take more than nine sheets is left to its numbers, and its wedge says so.
///
/// \param plan  complete. Empty for a plan without an oblique or lapped end and without a corner.
std::vector<Drawing> draw_full_size(const Plan& plan);

}  // namespace boardring
