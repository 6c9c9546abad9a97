#pragma once
#include <array>
#include <cstddef>
#include <vector>

#include "frame/frame.hpp"

namespace boardring {

/// Area [mm2] common to two convex polygons given counter-clockwise, by half-plane clipping. Boards are convex quadrilaterals
/// unless an edge vanishes.
///
/// Laws      symmetric; at most the smaller area; the polygon's own area against itself.
/// Edge      apart 0; touching along an edge or at a corner 0 within 1e-12 of the smaller area.
/// Accuracy  1e-12 of the smaller area for coordinates up to 1000 times its size [overlap_test]
double overlap_area_mm2(const std::vector<Vec2>& a, const std::vector<Vec2>& b);

/// Shared area that counts, as a share of the smaller board's: far over rounding (1e-15), far under what a saw leaves.
inline constexpr double kOverlapShare = 1e-9;

/// Two boards that share wood though they should not.
struct Overlap {
    std::size_t first = 0;
    std::size_t second = 0;
    double area_mm2 = 0.0;
};

/// All pairs that overlap by more than kOverlapShare of the smaller board and more than rounding can make, in board order;
/// half-lapped neighbours may overlap in their joint and are left out, so are boards without an inside or outside edge (their
/// plan is no shape). Candidates by an R-tree of the boards' boxes: n log n for boards spread round a ring, n^2 where all boxes
/// lie in one heap.
std::vector<Overlap> overlapping_boards(const Frame& frame);

/// |areas of all boards - area between inner and outer outline| / band area, for a closed ring of mitres: 0 when the boards tile
/// the band. Accuracy 1e-9 [frames_test]; meaningless for open chains and other joints.
double tiling_error(const Frame& frame);

}  // namespace boardring
