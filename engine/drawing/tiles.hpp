#pragma once
#include <vector>

#include "base/vec2.hpp"
#include "drawing/drawing.hpp"

namespace boardring {

/// A window onto a drawing: everything inside the rectangle, moved by `shift`. Lines and regions are cut at its edge, circles and
/// labels are taken only where they lie inside whole. Regions must be convex where they cross the edge (each cut leaves one piece);
/// page, scale, title and description are left as they are in a new Drawing.
Drawing cut_out(const Drawing& from, Vec2 low, Vec2 high, Vec2 shift);

/// Lower left corners of windows of `size` that cover the rectangle of `extent` from (0, 0), rows from the top, each row from the left,
/// neighbours overlapping by `overlap` or more; spread evenly. Sizes > overlap >= 0.
std::vector<Vec2> tile_corners(Vec2 extent, Vec2 size, double overlap);

}  // namespace boardring
