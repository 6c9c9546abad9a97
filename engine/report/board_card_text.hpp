#pragma once
#include <string>

#include "report/board_canvas.hpp"

namespace boardring {

/// The text round a board's drawing: heading, sentences and posture above it, a column for each end below it, the hatch explained,
/// boxes to tick for every piece. Written last, since it goes round all that stands there; it sets the size of the page.
void write_card_text(BoardCanvas& card, const std::string& ring_title);

}  // namespace boardring
