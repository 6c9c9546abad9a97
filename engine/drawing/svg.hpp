#pragma once
#include <string>

#include "drawing/drawing.hpp"

namespace boardring {

/// The drawing as a stand-alone SVG file: size in mm of paper (width and height in mm, viewBox in mm, y down), title and
/// description for readers who cannot see it, greys only, any sans-serif face, no script, no style sheet, no reference of any
/// kind. Text is escaped; bytes that are not UTF-8 become U+FFFD; control characters and marks that reorder text are left out.
/// Numbers have at most three decimals, never "-0". Same drawing, same bytes.
std::string write_svg(const Drawing& drawing);

/// The same as one element, to stand inside a page of HTML.
std::string svg_element(const Drawing& drawing);

}  // namespace boardring
