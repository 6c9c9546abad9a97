#pragma once
#include <array>
#include <compare>
#include <cstddef>
#include <optional>
#include <vector>

#include "cutlist/cut_list.hpp"
#include "frame/frame.hpp"
#include "project/project.hpp"

namespace boardring {

// When two boards are the same piece (docs/theory/cut_list.md).

/// Pieces whose lengths all agree within this are one piece [mm]. A mark is computed within about 1e-10 mm on a frame of 100 m and
/// cut within 0.1 mm: 1e-6 lies ten thousand times above the one and a hundred thousand times below the other, so neither rounding nor
/// workmanship ever decides.
inline constexpr double kSamePieceMm = 1e-6;

/// The same for the slopes of cuts [deg]: over the width of a board (1000 mm at most in practice) 1e-7 deg moves a mark by less than
/// 2e-6 mm, so slopes decide nothing that lengths would not.
inline constexpr double kSamePieceDeg = 1e-7;

/// Half-lap of a piece's end, counted from the end itself.
struct PieceLap {
    double depth_mm = 0.0;
    double inside_mm = 0.0;    ///< end to shoulder along the inside edge
    double outside_mm = 0.0;   ///< end to shoulder along the outside edge
    bool keeps_upper = false;
    auto operator<=>(const PieceLap&) const = default;
};

struct PieceEnd {
    double saw_deg = 0.0;  ///< + = outside longer
    std::optional<PieceLap> lap;
    double width_mm = 0.0;  ///< in the plan, at this end
    auto operator<=>(const PieceEnd&) const = default;
};

/// A board as a loose piece of wood: plan quadrilateral x section x laps.
struct Piece {
    std::optional<std::size_t> stock;  ///< index into Project::stock: like sizes of different stock are different pieces
    double width_mm = 0.0;             ///< in the plan, at the wider end
    double height_mm = 0.0;
    double inside_mm = 0.0;            ///< length along the inside edge
    double outside_mm = 0.0;
    std::array<PieceEnd, 2> ends;
    /// Of a board that tapers: its slopes are counted from what was the other edge before it was turned. Such turnings make it no
    /// piece of the same ring.
    bool from_other_edge = false;
    auto operator<=>(const Piece&) const = default;
};

/// Board `board` of the frame as a piece.
Piece piece_of(const Project& project, const Frame& frame, std::size_t board);

/// The piece turned by half a turn and named anew as it then lies. Undone by the same turning; any two different ones make the third.
Piece turned(const Piece& piece, Turning turning);

/// The mirror image: left and right end swapped, inside, outside, top and bottom staying.
Piece mirrored(const Piece& piece);

/// Turnings that leave what is seen in its place, in the order they are preferred where several make a piece the same, as_first first:
/// plain: all. show-face on edge (the outside face shows): top_to_bottom. show-face flat (the top shows): end_for_end. moulded: none.
std::vector<Turning> allowed_turnings(Surface surface, Lie lie);

/// Boards in groups of one piece each, in the order of their first boards; `count`, `mirror_of` and members set, lengths not. O(n log n).
std::vector<PieceGroup> group_boards(const Project& project, const Frame& frame);

}  // namespace boardring
