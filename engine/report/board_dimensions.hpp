#pragma once
#include "report/board_canvas.hpp"

namespace boardring {

/// Running dimensions from the datum along both edges, and the datum itself. False where some mark found no room: then a smaller scale serves.
bool draw_marks(BoardCanvas& card);

/// The width across the board, right of the break or right of the middle; of a piece that tapers both: "31 to 36.5".
void draw_width(BoardCanvas& card);

}  // namespace boardring
