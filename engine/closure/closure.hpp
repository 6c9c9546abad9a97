#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "closure/made_board.hpp"
#include "frame/frame.hpp"
#include "project/project.hpp"

namespace boardring {

struct BoardNudges;
struct MadeBoard;

// Do boards as they are really made still make a ring? Two answers that are never mixed (docs/theory/closure.md):
// stiff = joints made one after another, all that is left shows at joint A; spread = the ring drawn in as a whole.

/// What one joint shows. P, Q are inner and outer point of the face of the board that starts at the corner, e = unit P to Q,
/// m = unit normal out of that board's wood (a quarter turn right of e); C, D are the points of the board that ends there
/// which belong on P and Q. What these points are for each kind of joint: closure/contact.hpp.
struct JointMisfit {
    std::size_t corner = 0;
    double gap_in_mm = 0.0;       ///< (C - P).m, + open
    double gap_out_mm = 0.0;      ///< (D - Q).m, + open
    double lip_in_mm = 0.0;       ///< (C - P).e, + the earlier board stands further out
    double lip_out_mm = 0.0;      ///< (D - Q).e
    double angle_left_deg = 0.0;  ///< from PQ to CD, + opens outside; whole turns count: a row of square-cut boards leaves 360
};

/// Every other joint held tight; all that is left shows at joint A. A tight joint has one face direction and its points
/// together: mitre the inner points; butt flush at the far edge; half-lap the corner of the shoulders. Signed: - is wood that
/// would have to overlap.
struct StiffClosure {
    JointMisfit last;     ///< at joint A
    double one_in = 0.0;  ///< sum of sides / |C - P|; 0 when nothing is left, which is less than 1e-9 of the sum
};

/// The ring drawn in as a whole: faces may open, wood may not overlap, and the sum of gap_in^2 + gap_out^2 + lip_in^2 is as
/// small as it can be.
struct SpreadClosure {
    double widest_mm = 0.0;      ///< widest opening of any joint, inside or outside; >= 0
    std::size_t corner = 0;      ///< where; of equals the first
    double lip_mm = 0.0;         ///< largest |lip_in| of any joint
    std::vector<JointMisfit> joints;  ///< one per corner, in corner order; no gap below -1e-12 of the perimeter
    bool settled = true;  ///< the solver met its equations; false only for frames too far out to draw in: a last try then
};

/// One way of making the boards.
struct ClosureReport {
    std::optional<StiffClosure> stiff;    ///< closed rings
    std::optional<SpreadClosure> spread;  ///< closed rings
    /// Open chains: the first free end stands where it should, face on face at its inside mark, all joints are tight. Then
    /// the inside mark of the last free end lies off its place by this much along the line from the first free end's inside
    /// mark to the last's (+ the span is too long) ...
    std::optional<double> span_off_mm;
    /// ... and by this much across it, + to the left seen from the first: past that line, away from the boards of an arch.
    std::optional<double> span_across_mm;
    /// The last end face is turned by this, + counter-clockwise: the chain turns too much.
    std::optional<double> span_angle_deg;
};

/// The one rounding that moves the stiff gap most, all other boards and marks being exact.
struct WorstRounding {
    std::size_t board = 0;
    std::size_t end = 0;  ///< 0 first corner, 1 second corner; for a length the end away from the datum
    /// Marked: "inside mark", "outside mark", "inside shoulder", "outside shoulder"; set: "slope", "length", "shoulder".
    std::string what;
    /// How far rounding moved it: mm to the maker's right for marks and length; slopes: deg of |S| set by the saw, mm of rise
    /// set by the bevel, mm of run set by marks.
    double moved = 0.0;
    /// What that alone leaves at joint A: |C - P| or |D - Q|, whichever is more. Open chains: how far the last free end's
    /// inside mark lies off.
    double stiff_gap_mm = 0.0;
};

struct Closure {
    ClosureReport exact;   ///< unrounded: a check of our own arithmetic
    ClosureReport marked;  ///< all four marks of a board, and its shoulders', rounded to the rule from the datum
    ClosureReport set;     ///< slopes to the saw's or bevel's step (or as marked), long points to the rule, short edges follow
    /// Empty if no rounding leaves more than 1e-9 of the perimeter; of equals the first.
    std::optional<WorstRounding> worst_marked;
    std::optional<WorstRounding> worst_set;
};

/// Exact, as marked and as set.
///
/// \param project  its tools say how boards are marked and set
/// \param frame    from build_frame: closed rings of 3 boards or more, open chains of 1 or more
///
/// Laws      exact boards leave nothing; all 2N cuts of a regular ring off by d leave an angle of 2N d and an inside gap of
///           2N d R_in held stiff (first order in d; R_in centre to inner corner), but 2 d w / cos S at every joint drawn in;
///           lettering from another corner changes neither spread nor the angle left; k times the frame with k times the
///           steps leaves k times as much.
/// Edge      marks within 1e-7 of a step of a half step round away from zero, so equal boards round alike; saws are never set
///           to 90.
/// Accuracy  exact: stiff, spread and span within 1e-12 of the perimeter (bound 1e-9) over random frames; rounded: the
///           drawn-in ring closes within 1e-10 of the perimeter, meets the conditions of a minimum to 1e-5 of the largest
///           opening as measured by finite differences, and agrees within 1e-6 mm with trying every set of shut gaps at 3 to
///           7 boards [closure_property_test]
/// Cost      linear in the number of boards, about 4 us each
/// Source    docs/theory/closure.md
Closure close_frame(const Project& project, const Frame& frame);

/// The same with numbers that go beside their nearest steps (closure/rounding). Who works by slopes and lengths marks what follows from
/// them: the marks of the boards so set, rounded to the rule.
/// \param nudges  one for each board
Closure close_frame(const Project& project, const Frame& frame, const std::vector<BoardNudges>& nudges);

/// One way of making the boards of a frame, given: stiff and spread, or where the far end lands. \param made  one for each board
ClosureReport close_made(const Frame& frame, const std::vector<MadeBoard>& made);

/// What shows at `corner` when every other joint is held tight.
JointMisfit stiff_at(const Frame& frame, const std::vector<MadeBoard>& made, std::size_t corner);

}  // namespace boardring
