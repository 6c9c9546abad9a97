#pragma once
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "drawing/drawing.hpp"

namespace boardring {

// How a drawing looks on paper, for every writer: line widths and dashes in millimetres of paper, greys, and which characters of
// a text reach it.

inline constexpr double kHatchMm = 2.0;        ///< between hatch lines
inline constexpr double kHatchWidthMm = 0.18;  ///< of a hatch line
inline constexpr double kHaloMm = 0.8;         ///< white under a given line, which often lies on an edge

/// Order of drawing, bottom to top.
inline constexpr std::array<Pen, 6> kPens{Pen::outline, Pen::given, Pen::hidden, Pen::thin, Pen::dimension, Pen::cut};

/// Wide 0.5 to 0.7, middle 0.35, narrow 0.2 to 0.25: the line groups of ISO 128.
double pen_width_mm(Pen pen);

/// Dash, gap, dash, gap ... [mm of paper], stretched or squeezed so that a line of `length_mm` begins and ends with a whole dash:
/// corners stay visible. Empty for a full line.
std::vector<double> dash_mm(Pen pen, double length_mm);

/// Lightness of a fill, 0 black to 1 white; waste is white (its hatch is drawn), none is 1 and not drawn.
double fill_grey(Fill fill);

/// Length of a stroke along its points, closed or not, in drawing units.
double stroke_length(const Stroke& stroke);

/// The text as it may reach a file: tabs and line ends become spaces; controls, marks that turn the direction of writing and codes
/// that are no characters are left out; bytes that are not UTF-8 become U+FFFD.
std::string plain_line(std::string_view text);

}  // namespace boardring
