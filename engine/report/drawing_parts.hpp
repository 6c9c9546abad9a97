#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "base/vec2.hpp"
#include "drawing/drawing.hpp"
#include "project/project.hpp"

namespace boardring {

// What the drawings share: sizes on the paper, round scales, lines of text.

// Text heights [mm of paper] are steps of the drawing standards' row; nothing is under 2.5.
inline constexpr double kBigMm = 7.0;
inline constexpr double kNumberMm = 5.0;
inline constexpr double kBodyMm = 3.5;
inline constexpr double kSmallMm = 2.5;
inline constexpr double kClearMm = 0.8;   ///< between a label and anything else
inline constexpr double kMarginMm = 3.0;  ///< round everything

/// Paper that fits both common sizes with any printer's margins [mm]; drawings use it upright or on its side, cut to what they
/// need.
inline constexpr double kPaperShortMm = 190.0;
inline constexpr double kPaperLongMm = 254.0;

/// The box round points.
struct Extent {
    Vec2 low{1e300, 1e300};
    Vec2 high{-1e300, -1e300};

    void add(Vec2 p);
    [[nodiscard]] Vec2 size() const { return high - low; }
};

struct Scale {
    double units_per_mm = 1.0;
    std::string text;  ///< "1:10"
};

/// Round scales, largest picture first: 1, 2, 2.5 and 5 times a power of ten, or inches to the foot. Down to 1 to some 10^9.
std::vector<Scale> round_scales(bool inches);

/// The direction of a text that lies along `deg`: read from below or from the right.
double readable_deg(double deg);

/// " Lengths in mm."; nothing in feet jobs, where every number carries its own marks.
std::string length_words(const Project& project);

/// Lines of text from a point downwards, left-aligned; heights in mm of paper, the width in drawing units.
class TextColumn {
public:
    TextColumn(Drawing& drawing, Vec2 at, double width) : drawing_(drawing), at_(at), width_(width) {}

    /// Broken at spaces; lines beyond `most_lines` are cut and end in "...".
    void text(const std::string& words, double height_mm, bool strong, double indent_mm = 0.0, std::size_t most_lines = 99);
    void space(double paper_mm) { at_.y -= mm(paper_mm); }
    [[nodiscard]] Vec2 at() const { return at_; }  ///< top left of the next line
    [[nodiscard]] double mm(double paper) const { return paper * drawing_.scale; }

private:
    Drawing& drawing_;
    Vec2 at_;
    double width_;
};

}  // namespace boardring
