#pragma once
#include <array>
#include <cstddef>
#include <vector>

namespace boardring {

/// A small motion in the plan, or its dual: two components of a displacement and a turn.
using Twist = std::array<double, 3>;

/// One joint of the spread problem: by how much each of its three numbers moves the end of the chain.
struct OpeningColumns {
    Twist gap_in{};
    Twist gap_out{};
    Twist lip_in{};
};

/// The three numbers of one joint; gaps are >= 0.
struct Opening {
    double gap_in = 0.0;
    double gap_out = 0.0;
    double lip_in = 0.0;
};

struct LeastOpening {
    std::vector<Opening> openings;  ///< one per joint
    Twist force{};                  ///< the common twist of the laws below: two components of a force and its moment, mm and mm^2
    int steps = 0;                  ///< Newton steps taken
    bool met = true;                ///< the three equations are met within kOpeningMet
};

/// Relative to the size of the terms in them, the three equations count as met within this.
inline constexpr double kOpeningMet = 1e-9;

/// Smallest openings that bring the end of a chain where it belongs.
///
///     minimise  sum (gap_in^2 + gap_out^2 + lip_in^2)   subject to  sum (columns x opening) = wanted,  gaps >= 0
///
/// \param columns  one per joint; the three rows may have any scale
/// \param wanted   the motion that all openings together must make
/// \return the one minimum. `met` is false if no openings make that motion (all joints slide along one line and the turn or
///         the displacement across it has no gap of the right sign), or if the rows are dependent.
///
/// Laws      scaling `wanted` by k > 0 scales the openings by k; at the minimum every opening is what its columns say of one
///           common `force`, cut off at 0.
/// Edge      wanted = 0: all openings 0. No joints: met only if wanted = 0.
/// Cost      linear in the number of joints; 4 to 12 steps seen at 3 to 1000 joints.
/// Accuracy  1e-9 of the largest opening against enumeration of all sets of open gaps [least_opening_test]
/// Source    docs/theory/closure.md section 4 (dual in three unknowns, semismooth Newton)
LeastOpening least_opening(const std::vector<OpeningColumns>& columns, const Twist& wanted);

}  // namespace boardring
