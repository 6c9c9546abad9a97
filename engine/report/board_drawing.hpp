#pragma once
#include <cstddef>

#include "drawing/drawing.hpp"
#include "plan/plan.hpp"

namespace boardring {

/// One distinct board with marks from the datum, as it lies on the bench: seen from above, outside edge towards the maker, x to
/// the right. Both ends at their true angle, a long board broken in the middle (drawing units are the board's millimetres on
/// either side of the break; the right part is moved left). Waste hatched, running dimensions along both edges, S and E, long
/// side in words, mates, laps. \param plan   with frame, shown boards and cut list \param group  index into plan.cut_list->groups
Drawing draw_board(const Plan& plan, std::size_t group);

}  // namespace boardring
