#pragma once
#include "base/result.hpp"
#include "outline/chain.hpp"
#include "outline/outline.hpp"
#include "project/project.hpp"

namespace boardring {

// The forms that close by their nature: built from closed forms, never by walking round.

/// Corner k at the end of the chord from corner 0: s sin(k h) / sin(h) long, in the direction (k - 1) h, h = 180 / n.
/// Side 0 from (0, 0) to (s, 0), exactly. Error of a corner: below 1e-14 of the largest coordinate [build_test].
Outline build_regular(const RegularOutline& asked);

/// A (0, 0), B (length, 0), C (length, width), D (0, width): exact.
Outline build_rectangle(const RectangleOutline& asked);

/// The points where they are; closed ones that run clockwise are mirrored (y -> -y), open ones if the project says clockwise.
/// Turns by atan2 of cross and dot product of the two sides: near-straight corners keep their digits.
Outline build_points(const PointsOutline& asked, bool open, bool letters_clockwise);

/// Corners that run counter-clockwise (or an open chain) as an outline: nothing is turned round.
Outline build_corners(const std::vector<Vec2>& corners_mm, bool open);

/// Equal sides, equal turns span / pieces; the centre on the left hand. Side 0 from (0, 0) along +x, corners as in
/// build_regular with h = span / (2 pieces). Fit by corners: side 2 R sin h; by flats: 2 R tan h. An open chain.
/// At least 2 pieces: sides that touch the arc need h < 90.
Outline build_arc(const ArcOutline& asked);

/// The outline of a chain that closes (or is open): walked, side 0 along +x from the origin.
Outline build_chain(const Chain& chain);

/// Twice the area of the closed ring, + counter-clockwise; differences to the first point, so far-off rings keep their digits.
double twice_area_mm2(const std::vector<Vec2>& ring);

}  // namespace boardring
