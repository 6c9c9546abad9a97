#pragma once
#include <cstddef>

#include "drawing/drawing.hpp"
#include "plan/plan.hpp"
#include "report/drawing_parts.hpp"

namespace boardring {

/// The ring with everything that stands round it, on paper without borders.
struct RingPicture {
    Drawing drawing;                  ///< without title, legend and page
    Extent extent;                    ///< of all that is drawn
    std::size_t every = 1;            ///< one corner and board in so many is named
    bool something_left_out = false;  ///< a letter, number, length or angle found no room
};

/// Boards, given line, angles, lengths of the given line, letters and numbers at a scale. A label that would touch another label,
/// a line or wood (but for a board's own number) is put elsewhere near its place or left out.
/// \param plan   with its outline and frame
/// \param scale  drawing units per mm of paper, > 0
RingPicture picture_ring(const Plan& plan, double scale);

}  // namespace boardring
