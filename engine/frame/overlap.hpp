#pragma once
#include <array>
#include <cstddef>
#include <vector>

#include "frame/frame.hpp"

namespace boardring {

/// Area [mm2] common to two convex polygons given counter-clockwise, by half-plane clipping. Touching polygons give 0
/// within 1e-15 of their area. Boards are convex quadrilaterals unless an end runs backwards, which is refused before.
double overlap_area_mm2(const std::vector<Vec2>& a, const std::vector<Vec2>& b);

/// Shared area that counts, as a share of the smaller board's: far over rounding (1e-15), far under what a saw leaves.
inline constexpr double kOverlapShare = 1e-9;

/// Two boards that share wood though they should not.
struct Overlap {
    std::size_t first = 0;
    std::size_t second = 0;
    double area_mm2 = 0.0;
};

/// All pairs that overlap by more than 1e-9 of the smaller board's area; half-lapped neighbours may overlap in their joint and are left out.
/// Candidates by an R-tree of the boards' boxes: O(n log n) for boards spread round a ring.
std::vector<Overlap> overlapping_boards(const Frame& frame);

/// |areas of all boards - area between inner and outer outline| / band area, for a closed ring of mitres: 0 when the boards tile the band.
double tiling_error(const Frame& frame);

}  // namespace boardring
