#include "closure/contact.hpp"

#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"

namespace boardring {
namespace {

constexpr std::size_t kStart = 0;
constexpr std::size_t kFinish = 1;

double slope_rad(double run_mm, double width_mm) { return std::atan2(run_mm, width_mm); }

// Direction inside -> outside of a line across the board whose outside mark lies `run` beyond the inside mark towards the end.
double across_rad(const MadeBoard& board, std::size_t end, double run_mm) {
    const double slope = slope_rad(run_mm, board.width_mm);
    return end == kStart ? -0.5 * kPi - slope : -0.5 * kPi + slope;
}

Vec2 on_inside(const MadeBoard& board, double x_mm) { return {x_mm, -board.offset_mm}; }
Vec2 on_outside(const MadeBoard& board, double x_mm) { return {x_mm, -board.offset_mm - board.width_mm}; }

Contact end_face(const MadeBoard& board, std::size_t end) {
    const MadeEnd& made = board.ends[end];
    return {on_inside(board, made.inside_mm), on_outside(board, made.outside_mm), across_rad(board, end, made.run_mm)};
}

double face_mm(const MadeBoard& board, std::size_t end) { return std::hypot(board.width_mm, board.ends[end].run_mm); }

// Direction from the inner to the outer corner along the near edge of the board that runs through (or is lapped): towards the board's end
// at a convex corner, away from it at an inward one. Chosen within the half turn that keeps turn_rad() = T without wrapping.
double edge_rad(std::size_t end, bool convex) {
    if (end == kStart) return convex ? -kPi : 0.0;
    return convex ? 0.0 : -kPi;
}

// +1 if that direction runs along +x.
double edge_sign(std::size_t end, bool convex) { return (end == kFinish) == convex ? 1.0 : -1.0; }

// The mated piece of the through board's near edge: the mark at its end is the flush point, the other lies a face length from it.
Contact near_edge(const MadeBoard& board, std::size_t end, bool convex, double length_mm) {
    const MadeEnd& made = board.ends[end];
    const double reach_mm = edge_sign(end, convex) * length_mm;
    if (convex) return {on_inside(board, made.inside_mm - reach_mm), on_inside(board, made.inside_mm), edge_rad(end, convex)};
    return {on_outside(board, made.outside_mm), on_outside(board, made.outside_mm + reach_mm), edge_rad(end, convex)};
}

Contact lapped(const MadeBoard& board, std::size_t end, bool convex) {
    const MadeEnd& made = board.ends[end];
    ENSURE(made.shoulder.has_value());
    const double inner_mm = convex ? made.shoulder->inside_mm : made.inside_mm;
    const double outer_mm = convex ? made.outside_mm : made.shoulder->outside_mm;
    const double theta = 0.5 * (across_rad(board, end, made.shoulder->run_mm) + edge_rad(end, convex));
    return {on_inside(board, inner_mm), on_outside(board, outer_mm), theta};
}

}  // namespace

JointContact joint_contact(const Joint& joint, const MadeBoard& before, const MadeBoard& after) {
    const bool convex = joint.interior_deg < 180.0;
    switch (joint.kind) {
        case JointKind::mitre: return {joint.corner, end_face(after, kStart), end_face(before, kFinish), false};
        case JointKind::butt:
            ENSURE(joint.through.has_value());
            if (*joint.through == joint.after) {
                return {joint.corner, near_edge(after, kStart, convex, face_mm(before, kFinish)), end_face(before, kFinish), convex};
            }
            return {joint.corner, end_face(after, kStart), near_edge(before, kFinish, convex, face_mm(after, kStart)), convex};
        case JointKind::half_lap: return {joint.corner, lapped(after, kStart, convex), lapped(before, kFinish, convex), false};
    }
    ENSURE(false);
    return {};
}

Contact free_contact(const MadeBoard& board, std::size_t end) { return end_face(board, end); }

}  // namespace boardring
