#pragma once
#include <string>
#include <vector>

#include "base/vec2.hpp"

namespace boardring {

// One drawing model in millimetres of the paper's object (not of the paper), y up. Thin writers turn it into files
// (report/svg.hpp now; others read the same model).

enum class Pen { outline, thin, dash, dimension, waste };  ///< visible edge; construction; hidden or given line; dimension; hatch
enum class Align { left, centre, right };

struct Stroke {
    Pen pen = Pen::thin;
    std::vector<Vec2> points;
    bool closed = false;
};

/// A filled region: a board (light grey) or waste (hatched at 45 degrees).
struct Region {
    enum class Fill { wood, waste, given };
    Fill fill = Fill::wood;
    std::vector<Vec2> points;
};

struct Label {
    Vec2 at;
    std::string text;
    double height = 0.0;     ///< cap height in drawing units
    double turn_deg = 0.0;   ///< counter-clockwise
    Align align = Align::centre;
    bool strong = false;
};

struct Drawing {
    std::string title;       ///< for the picture's title element
    std::string describes;   ///< one sentence for readers who cannot see it
    std::vector<Region> regions;
    std::vector<Stroke> strokes;
    std::vector<Label> labels;
    double scale = 1.0;      ///< drawing units per millimetre of paper: 10 prints 1:10
};

}  // namespace boardring
