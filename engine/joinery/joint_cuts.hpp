#pragma once
#include <optional>

namespace boardring {

/// One board at a corner, as the plan sees it: the offset of its inside line from the outline (+ outward) and its width in the
/// joint.
struct BoardInPlan {
    double offset_mm = 0.0;  ///< a: the outline along the inside has a = 0
    double width_mm = 0.0;   ///< w > 0
};

/// Shoulders of a half-lap: marks like the end marks, at the line where the cheek begins.
struct LapCut {
    double shoulder_inside_mm = 0.0;
    double shoulder_outside_mm = 0.0;
};

/// One board's end at a corner. Positions t are measured along the board from the outline's corner, + into the board; so a
/// mark that reaches past the corner is negative.
struct EndCut {
    double inside_mm = 0.0;   ///< t of the mark on the inside line
    double outside_mm = 0.0;  ///< t of the mark on the outside line
    /// How far the outside mark lies beyond the inside mark towards this end: inside_mm - outside_mm without its cancellation.
    double run_mm = 0.0;
    double saw_deg = 0.0;  ///< S = atan(run / w), + = outside longer
    double face_mm = 0.0;  ///< length of the sawn face in the plan, w / cos S; a mitre's mate has the same
    /// Square-line method: a square line through the inside mark, then along the outside edge `first` (+ into the board),
    /// then `second` back towards the corner (negative at inward corners). run = second - first.
    double square_first_mm = 0.0;
    double square_second_mm = 0.0;
    std::optional<LapCut> lap;
};

/// Both boards' ends at one corner.
struct JointCuts {
    EndCut before;  ///< the board that ends here
    EndCut after;   ///< the board that starts here
};

/// Where a board's own line at offset q meets the other board's line at offset r, along the own board from the corner, + into the
/// board: t = (q cos T - r) / sin T, as (q - r) / sin T - q tan(T/2), past 90 as q cot(T/2) - (q + r) / sin T, to keep digits at any T.
/// \param q_mm, r_mm  offsets from the outline, + outward
/// \param turn_deg    T = 180 - I, in (-180, 180), |T| >= kStraightTurnDeg
/// Symmetric: for the board on the other side of the corner swap q and r.
/// Accuracy 4 eps (|q| + |r|) / |sin T|; worst seen 2.5 eps, in searches for the worst [mitre_test]
double line_crossing_mm(double q_mm, double r_mm, double turn_deg);

}  // namespace boardring
