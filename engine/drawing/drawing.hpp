#pragma once
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "base/vec2.hpp"

namespace boardring {

// One drawing model in millimetres of the thing drawn (not of the paper), y up. Thin writers turn it into files
// (drawing/svg.hpp, drawing/dxf.hpp, pdf/pdf.hpp). Line kinds follow drawing practice (ISO 128: wide for visible edges, narrow
// for everything else, dashes for what is hidden, long dash and dot for reference lines); meaning never rests on colour.

/// Line kinds: visible edge; construction and leaders; hidden edge; given line; dimension lines; saw line.
enum class Pen { outline, thin, hidden, given, dimension, cut };
enum class Align { left, centre, right };
/// Fills: none; paper white (covers what lies below); wood (light); waste (hatched at 45 degrees); solid black.
enum class Fill { none, blank, wood, waste, ink };

/// A line along its points.
struct Stroke {
    Pen pen = Pen::thin;
    std::vector<Vec2> points;
    bool closed = false;
};

/// A filled polygon without an edge of its own.
struct Region {
    Fill fill = Fill::wood;
    std::vector<Vec2> points;
};

/// Drawn over regions and strokes.
struct Circle {
    Pen pen = Pen::thin;
    Fill fill = Fill::none;
    Vec2 centre;
    double radius = 0.0;
};

/// One line of text. `at` lies half a cap height above the baseline, at the start, middle or end of the line as `align` says.
struct Label {
    Vec2 at;
    std::string text;
    double height = 0.0;    ///< cap height in drawing units
    double turn_deg = 0.0;  ///< counter-clockwise
    Align align = Align::centre;
    bool strong = false;
};

struct Drawing {
    std::string title;      ///< for the picture's title element
    std::string describes;  ///< one sentence or two for readers who cannot see it
    std::vector<Region> regions;
    std::vector<Stroke> strokes;
    std::vector<Circle> circles;
    std::vector<Label> labels;
    double scale = 1.0;  ///< drawing units per millimetre of paper: 10 prints 1:10
    Vec2 page_low;       ///< lower left and upper right corner of the paper, in drawing units
    Vec2 page_high;
};

/// Letter size over cap height that this project assumes: font size = cap height / kCapHeight.
inline constexpr double kCapHeight = 0.72;

/// Width of a text at cap height 1, generous: the widest of common sans-serif faces, so that a label drawn in another face stays
/// inside its box. UTF-8; a byte that is not valid counts as one wide character.
double text_width(std::string_view text, bool strong);

/// The first words of `text` that fit `width` (drawing units), broken at spaces; words that are wider alone are cut. Never empty
/// lines.
std::vector<std::string> wrapped_text(std::string_view text, double width, double height, bool strong);

/// The rectangle a label covers, corners counter-clockwise; below the baseline only where letters hang there.
std::array<Vec2, 4> label_box(const Label& label);

/// Lines at 45 degrees inside a polygon (even-odd), `spacing` apart, on a grid fixed to the origin so that neighbours match.
std::vector<std::array<Vec2, 2>> hatch_lines(const std::vector<Vec2>& polygon, double spacing);

}  // namespace boardring
