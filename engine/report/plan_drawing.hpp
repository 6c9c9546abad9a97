#pragma once
#include <cstddef>

#include "plan/plan.hpp"
#include "report/drawing.hpp"

namespace boardring {

/// Plan view to scale: boards, corner letters, board numbers, interior angles, lengths of the given line, which line is given.
Drawing draw_plan(const Plan& plan);

/// One distinct board with marks from the datum, as it lies on the bench: outside edge towards the maker, waste hatched,
/// running dimensions, S and E, long side in words, mates.
/// \param group  index into plan.cut_list->groups
Drawing draw_board(const Plan& plan, std::size_t group);

}  // namespace boardring
