#pragma once
#include "joinery/joint_cuts.hpp"

namespace boardring {

/// A free end may not be cut flatter to the board than this; the frame refuses such an end before.
inline constexpr double kSteepestFreeEndDeg = 89.0;

/// Free end of an open chain: the cut line passes through the outline's end point.
///
///     t(q) = -q tan S;  run = w tan S;  face = w / cos S
///
/// \param saw_deg  S in (-89, 89), + = outside longer; 0 is square
/// \return one step for the square-line method: square_first = -run, square_second = 0
/// Laws      the mark at offset 0 is the outline's end point; S -> -S mirrors the end in a square line through that point.
/// Edge      S = 0: both marks at 0. Outline along the outside (a = -w): the outside mark is at 0.
/// Accuracy  4 eps of |q tan S| [free_end_test]
/// Sensitive d(mark)/dS = -q / cos^2 S: 2.5 mm per degree for the outside of a 145 mm board cut square
/// Source    docs/theory/free_end.md
EndCut free_end(double saw_deg, BoardInPlan board);

}  // namespace boardring
