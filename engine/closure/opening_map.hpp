#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "closure/least_opening.hpp"

namespace boardring {

/// How the openings of a drawn-in ring follow a small motion more, while the gaps that are shut stay shut.
struct OpeningMap {
    struct Joint {
        Twist gap_in{}, gap_out{}, lip_in{};  ///< mm for each mm or rad of the motion wanted; zeros where a gap is shut
    };
    std::vector<Opening> openings;  ///< at the motion itself
    std::vector<Joint> joints;      ///< by corner
    std::vector<char> open;         ///< two for each joint, inner and outer gap: not shut
};

/// Least openings are linear in the motion as long as the same gaps are shut: with A the columns of all open gaps and all lips, they are
/// A' (A A')^-1 wanted. Where a gap just shuts or opens the map changes; the openings themselves do not jump.
///
/// \return nothing where no gap is open (the motion is nothing: any motion more opens other gaps), or where the open ones do not span
///         all three directions
/// Laws      the map times the motion is the openings; openings of a motion that leaves the same gaps shut are the map times it
/// Accuracy  1e-9 of the largest opening, by the first law and by differences of least_opening [opening_map_test]
/// Source    docs/theory/last_joint.md section 2
std::optional<OpeningMap> opening_map(const std::vector<OpeningColumns>& columns, const Twist& wanted);

}  // namespace boardring
