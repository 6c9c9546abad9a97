#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "closure/closure.hpp"
#include "closure/nudges.hpp"
#include "frame/frame.hpp"
#include "project/project.hpp"

namespace boardring {

/// Which piece a board is the same as: itself, or an earlier board turned.
struct AlikeBoard {
    std::size_t first = 0;
    PieceTurn turn;
};

/// Numbers rounded so that the ring closes.
struct ClosingRounding {
    std::vector<BoardNudges> nudges;  ///< by board; all 0: every number to its nearest step
    bool applied = false;             ///< some number is not
    bool matters = false;             ///< the nearest steps leave enough to be worth it, see round_to_close
    std::size_t choices = 0;          ///< numbers that stand between two steps, pieces alike counted once
    std::size_t other_way = 0;        ///< how many of them go to the step farther off
    double before_mm = 0.0;           ///< widest of |gap in|, |gap out|, |lip in| at joint A held stiff, all to the nearest step
    double value_mm = 0.0;            ///< the same as chosen
    double linear_mm = 0.0;           ///< the same as chosen, on the linear chain
    double bound_mm = 0.0;            ///< no choice leaves less on the linear chain
    bool exact = true;                ///< bound_mm is left there by some way
    double spread_before_mm = 0.0;    ///< widest opening, the ring drawn in
    double spread_after_mm = 0.0;
};

/// Numbers beyond these stay at their nearest step: far fewer already close any ring.
inline constexpr std::size_t kMostChoices = 120;

/// Every number a maker works by (by marks: marks; by bevel or saw: slopes, long points, shoulders) goes to the step below it or above it,
/// so that the last joint, all others held tight, is as little out as can be.
///
/// Chosen     in this order: least widest of |gap in|, |gap out|, |lip in| at joint A; least mismatch of two mitred faces; least sum of
///            squared moves; first in order. No mismatch of faces over half a step of the rule and no corner turned by more than step
///            / narrowest width, or what the nearest steps do there if that is more.
/// Alike      boards that are one piece are rounded as one; a bevel is set once for one angle.
/// Applied    where it matters: the ring of nearest steps, drawn in, opens more than a tenth of `wanted.gap`, and the choice takes away
///            more than that at the last joint. Else every number keeps its nearest step, which is what a maker would write, and the
///            values say so. Open chains, and
///            Rounding::nearest: always the nearest.
/// Proof      the search is over the linear chain (least_miss); the ways that are best there are walked exactly and the best of these is
///            taken, never one worse than the nearest steps. With six choices or fewer every way is walked exactly.
/// Laws       never worse than the nearest steps; k times the frame with k times the steps: k times the values; relettering changes
///            nothing where all joints are alike.
/// Accuracy   against walking every way of up to 10 choices [rounding_property_test]
/// Cost       linear in the number of boards; six boards: docs/accuracy.md
/// Source     docs/theory/rounding.md
/// \param alike  one for each board; empty: no two boards are one piece
ClosingRounding round_to_close(const Project& project, const Frame& frame, const std::vector<AlikeBoard>& alike);

/// The frame as it is set out: marks, lengths, slopes and what follows from them for every board whose numbers were rounded so; corners
/// and joints as they were. Slopes are the exact ones unless the saw's scale sets them.
Frame frame_as_set(const Project& project, const Frame& frame, const ClosingRounding& rounding);

}  // namespace boardring
