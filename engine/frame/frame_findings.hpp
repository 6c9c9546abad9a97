#pragma once
#include <cstddef>

#include "base/finding.hpp"
#include "frame/frame.hpp"
#include "outline/outline.hpp"
#include "project/project.hpp"

namespace boardring {

// What build_frame says to the maker. Lengths in the maker's unit; corners by letter, boards by number. Of one code at most
// twenty are told; the last says how many more there are.

/// A butt names a board that does not meet this corner: joint.through-elsewhere.
Finding through_elsewhere(const Project& project, const Joint& joint);

/// A free end cut flatter to the board than kSteepestFreeEndDeg: end.too-flat.
Finding end_too_flat(const Project& project, const EndAsked& end, std::size_t corner);

/// A straight corner that cannot be joined as asked; `refused` is what joinery said (joint.straight-unequal,
/// joint.straight-overlap).
Finding straight_refused(const Project& project, const Joint& joint, const Board& before, const Board& after,
                         const Finding& refused);

/// What the sections say before any length is known: joint.unequal-moulded, joint.undercut, joint.unequal-heights.
/// Differences under half a step of the maker's rule are not spoken of.
Findings section_findings(const Project& project, const Outline& outline, const Frame& frame);

/// What the cut boards say: board.edge-vanishes, board.laps-meet, board.overlap.
Findings length_findings(const Project& project, const Outline& outline, const Frame& frame);

}  // namespace boardring
