#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "base/vec2.hpp"

namespace boardring {

/// Two sides that are not neighbours and share a point, or neighbours that lie on each other.
struct Crossing {
    std::size_t first = 0;  ///< side; first < second
    std::size_t second = 0;
    Vec2 at_mm;  ///< a point both share
    friend bool operator==(const Crossing& a, const Crossing& b) { return a.first == b.first && a.second == b.second; }
};

/// + if c lies to the left of a -> b, - to the right, 0 exactly on the line: the sign is always right (rounding is bounded, then
/// expanded), for coordinates whose products neither overflow nor fall below the normal range.
int side_of_line(Vec2 a, Vec2 b, Vec2 c);

/// The first pair a sweep over the sides meets, or nothing exactly if the line of sides is simple: no two sides share a point but
/// neighbours their corner. Corners must differ from each other (repeated_corners first). n log n, any shape.
/// Checked against every pair on random and on small-grid rings [crossings_test].
std::optional<Crossing> first_crossing(const std::vector<Vec2>& corners_mm, bool closed);

/// Every pair, in order of the sides; at most `most`. Looks at all pairs: for rings of up to a few thousand sides.
std::vector<Crossing> all_crossings(const std::vector<Vec2>& corners_mm, bool closed, std::size_t most);

/// Pairs of corners nearer than `within_mm` that are not neighbours, in order; each corner with the first it repeats. n log n.
struct RepeatedCorner {
    std::size_t first = 0;
    std::size_t again = 0;
};
std::vector<RepeatedCorner> repeated_corners(const std::vector<Vec2>& corners_mm, bool closed, double within_mm);

}  // namespace boardring
