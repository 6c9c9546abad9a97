#include "joinery/mitre.hpp"

#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"

namespace boardring {
namespace {

// Notation of docs/theory/mitre.md: own board o, other board p, turn T, offsets a, widths w.
//   run_o    = (w_p - w_o cos T) / sin T         = -t(w_o, w_p)
//   S_o, S_p = T/2 + d, T/2 - d                  with tan(T/2) tan d = (w_p - w_o) / (w_p + w_o)
//   face     = |outer corner - inner corner|     = hypot(w_p - w_o, 2 sqrt(w_o w_p) sin(T/2)) / |sin T|
// The right-hand forms subtract nothing that is nearly equal at small T, give S_o + S_p = T to the last bit but one, exactly
// T/2 for equal boards, and one face for both.

// Boards that differ by less than this run on as one at a straight corner: far under any rule, far over the rounding of a
// length that came through inches.
constexpr double kSameMm = 1e-9;

EndCut cut_of(double turn_deg, BoardInPlan own, BoardInPlan other, double skew_deg, double face_mm) {
    EndCut cut;
    cut.inside_mm = line_crossing_mm(own.offset_mm, other.offset_mm, turn_deg);
    cut.outside_mm = line_crossing_mm(own.offset_mm + own.width_mm, other.offset_mm + other.width_mm, turn_deg);
    cut.run_mm = 0.0 - line_crossing_mm(own.width_mm, other.width_mm, turn_deg);
    cut.saw_deg = 0.5 * turn_deg + skew_deg;
    cut.face_mm = face_mm;
    cut.square_first_mm = own.width_mm * cos_deg(turn_deg) / sin_deg(turn_deg);
    cut.square_second_mm = other.width_mm / sin_deg(turn_deg);
    return cut;
}

// Equal boards at a straight corner: the same formulas with q = r, which need no division by sin T. At T = 0 plain square ends.
EndCut straight_cut(double turn_deg, BoardInPlan own) {
    const double half = tan_deg(0.5 * turn_deg);
    EndCut cut;
    cut.inside_mm = 0.0 - own.offset_mm * half;
    cut.outside_mm = 0.0 - (own.offset_mm + own.width_mm) * half;
    cut.run_mm = own.width_mm * half;
    cut.saw_deg = 0.5 * turn_deg;
    cut.face_mm = std::hypot(own.width_mm, cut.run_mm);
    cut.square_second_mm = cut.run_mm;
    return cut;
}

}  // namespace

Result<JointCuts> mitre(double turn_deg, BoardInPlan before, BoardInPlan after) {
    ENSURE(std::abs(turn_deg) < 180.0 && before.width_mm > 0.0 && after.width_mm > 0.0);
    const double wider = after.width_mm - before.width_mm;
    if (std::abs(turn_deg) < kStraightTurnDeg) {
        if (std::abs(wider) > kSameMm || std::abs(after.offset_mm - before.offset_mm) > kSameMm) {
            return Finding{Severity::error, "joint.straight-unequal", "",
                           "two boards that run on in one line here are not equally wide, or do not lie in one line, so no one "
                           "cut serves both",
                           "use one width and one margin on both sides of this corner, or one board for both sides"};
        }
        return JointCuts{straight_cut(turn_deg, before), straight_cut(turn_deg, after)};
    }
    const double half_deg = 0.5 * turn_deg;
    // The thinner board gets the steeper cut: the skew counts + for `before` when `after` is the wider.
    const double skew_deg = degrees(std::atan(wider / (after.width_mm + before.width_mm) / tan_deg(half_deg)));
    const double face_mm =
        std::hypot(wider, 2.0 * std::sqrt(before.width_mm * after.width_mm) * sin_deg(half_deg)) / std::abs(sin_deg(turn_deg));
    return JointCuts{cut_of(turn_deg, before, after, skew_deg, face_mm), cut_of(turn_deg, after, before, -skew_deg, face_mm)};
}

}  // namespace boardring
