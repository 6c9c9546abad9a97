#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "closure/as_cut.hpp"
#include "frame/frame.hpp"
#include "outline/outline.hpp"

namespace boardring {

/// What the boards that are not cut yet keep of the plan, when those that are cut came out otherwise.
enum class Keep {
    outline,  ///< no inside corner moves farther than it must
    angles,   ///< corners keep their angles as far as the lengths can take it up
    lengths,  ///< inside lengths stay as far as the corners can take it up
};

/// A ring of mitres that closes with boards as they were cut: the polygon of its inside corners.
///
/// A tight mitre brings the inside marks together and lays face on face, so the ring is the polygon whose sides are the inside
/// edges and whose turns are the sums of two slopes. Cut boards in a row are one stiff piece: their edges and the turns between
/// them are given. Everything else is free.
///   outline  every stiff piece is laid on the planned corners with the least sum of squares of their distances; all other
///            corners stay. That is the least change of all corners, and it needs no search.
///   angles   free corners share what the sum of the angles misses equally; open lengths close the ring with the least sum of
///            squares of their changes. Where lengths alone cannot (open boards that all run alike), corners move too.
///   lengths  free corners close the ring with the least sum of squares of their changes.
/// One board left to cut has no choice; where angles or lengths cannot be kept, the outline is.
///
/// \param planned  a closed ring of mitres
/// \param cut      one per board, empty where it is still to be cut; at least one is
/// \return the inside corners; nothing if some length or angle would have to be nothing
/// Laws      boards cut as planned change nothing; whatever the errors, the edges and turns of cut boards are kept and the
///           ring closes to 1e-9 of its perimeter (1e-12 seen); no other arrangement with those boards changes less [refit_test,
///           against a general minimiser]
/// Cost      linear for outline; as spread_within_digits for the others
/// Source    docs/theory/refit.md
std::optional<Outline> refit_outline(const Frame& planned, const std::vector<std::optional<BoardShape>>& cut, Keep keep);

/// Gives the boards of a frame built on that outline their real shapes: cut ones as cut, and ends that meet them the slope
/// that fills the corner. Faces that are not equally long leave a lip outside. False where that slope would be 90 degrees or more.
[[nodiscard]] bool put_cut_boards(Frame& frame, const std::vector<std::optional<BoardShape>>& cut);

/// How far each inside corner of `refitted` lies from the planned one, laid on each other with the least sum of squares [mm].
std::vector<double> corners_moved_mm(const Frame& planned, const Outline& refitted);

/// How far the face of the board that ends at a mitre stands out beyond the other's outside [mm], inner corners together.
double lip_outside_mm(const Frame& frame, const Joint& joint);

/// A board of `wood` can be trimmed to the shape `wanted` by taking off at its ends only: how much, at the inside and outside
/// of each end; nothing if it is too short somewhere.
struct Trim {
    double off_mm[2][2] = {};  ///< [end][0 inside, 1 outside]
    double most_mm = 0.0;
};
std::optional<Trim> trim_to(const BoardShape& wood, const BoardShape& wanted);
/// By how much `wood` is too short for it, along its length; 0 if it can be trimmed.
double too_short_mm(const BoardShape& wood, const BoardShape& wanted);

}  // namespace boardring
