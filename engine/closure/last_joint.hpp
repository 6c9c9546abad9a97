#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "closure/closure.hpp"
#include "closure/refit.hpp"

namespace boardring {

/// A ring whose boards are all cut: what to do about its last joint.
struct LastJoint {
    std::size_t corner = 0;
    JointMisfit open;          ///< as it stands with every other joint tight, + open
    std::size_t plane_board = 0;   ///< the face to plane is on this board ...
    std::size_t plane_end = 0;     ///< ... at this end
    bool plane_inside = false;     ///< off its inside edge, to nothing at the outside; else the other way
    double plane_mm = 0.0;         ///< square to the face
    SpreadClosure before;          ///< drawn in as it is
    SpreadClosure after;           ///< drawn in once planed
};

/// The joint as measured, or (without `gap`) as the shapes say. A wedge planed off makes the turns of the ring add up to one whole
/// turn; what is left then is a matter of lengths, which drawing in shares out.
/// \param frame   boards with the shapes they were cut to (put_cut_boards), on the planned outline
/// \param fit     the board to plane; it meets the corner
LastJoint last_joint(const Frame& frame, std::size_t corner, std::size_t fit, const std::optional<DryFitGap>& gap);

/// One board cut anew, all others staying.
struct Recut {
    std::size_t board = 0;
    BoardShape shape;
    std::optional<Trim> trim;      ///< from the wood it is now; nothing: it is too short
    double too_short_mm = 0.0;
    double moved_mm = 0.0;         ///< the inside corner that then lies farthest from the plan
};

/// The one board to cut anew: of those that can be trimmed the one that leaves the ring nearest to the plan; else the one that is
/// least too short. Nothing if no single board can do it.
std::optional<Recut> best_recut(const Frame& planned, const std::vector<std::optional<BoardShape>>& cut);

/// The one board that, cut anew from whatever wood, leaves the ring nearest to the plan. Nothing if no single board can do it.
std::optional<Recut> nearest_recut(const Frame& planned, const std::vector<std::optional<BoardShape>>& cut);

}  // namespace boardring
