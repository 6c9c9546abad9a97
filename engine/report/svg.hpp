#pragma once
#include <string>

#include "report/drawing.hpp"

namespace boardring {

/// The drawing as a stand-alone SVG file: size in mm of paper, everything escaped, readable in grey, no script, no outside reference.
std::string write_svg(const Drawing& drawing);

}  // namespace boardring
