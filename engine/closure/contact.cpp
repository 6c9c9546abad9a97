#include "closure/contact.hpp"

#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"

namespace boardring {
namespace {

constexpr std::size_t kStart = 0;
constexpr std::size_t kFinish = 1;

Vec2 unit_rad(double rad) { return {std::cos(rad), std::sin(rad)}; }

Vec2 on_inside(const MadeBoard& board, std::size_t end, double x_mm) { return {x_mm, -board.offset_at(end)}; }
Vec2 on_outside(const MadeBoard& board, std::size_t end, double x_mm) { return {x_mm, -board.offset_at(end) - board.width_at(end)}; }

// Direction inside -> outside of a line across the board whose outside mark lies `run` beyond the inside mark towards the end.
double across_rad(const MadeBoard& board, std::size_t end, double run_mm) {
    const double slope = std::atan2(run_mm, board.width_at(end));
    return end == kStart ? -0.5 * kPi - slope : -0.5 * kPi + slope;
}

Contact end_face(const MadeBoard& board, std::size_t end) {
    const MadeEnd& made = board.ends[end];
    return {on_inside(board, end, made.inside_mm), on_outside(board, end, made.outside_mm), across_rad(board, end, made.run_mm),
            std::hypot(board.width_at(end), made.run_mm)};
}

// Direction inside -> outside of the joint along the near edge of a board: towards its end at a convex corner, away from it at an
// inward one. Of the two names of that direction the one that makes turn_rad() = T without wrapping.
double edge_rad(std::size_t end, bool convex) { return (end == kFinish) == convex ? 0.0 : -kPi; }
double edge_sign(std::size_t end, bool convex) { return (end == kFinish) == convex ? 1.0 : -1.0; }

// The mated piece of the through board's near edge: the mark at its end is the flush point, the other lies a face length from it.
Contact near_edge(const MadeBoard& board, std::size_t end, bool convex, double face_mm) {
    const MadeEnd& made = board.ends[end];
    const double reach_mm = edge_sign(end, convex) * face_mm;
    const double theta = edge_rad(end, convex);
    if (convex) return {on_inside(board, end, made.inside_mm - reach_mm), on_inside(board, end, made.inside_mm), theta, face_mm};
    return {on_outside(board, end, made.outside_mm), on_outside(board, end, made.outside_mm + reach_mm), theta, face_mm};
}

Contact lapped(const MadeBoard& board, std::size_t end, bool convex, double face_mm) {
    ENSURE(board.ends[end].shoulder.has_value());
    const MadeEnd::Shoulder& shoulder = *board.ends[end].shoulder;
    const double theta = 0.5 * (across_rad(board, end, shoulder.run_mm) + edge_rad(end, convex));
    const Vec2 reach = face_mm * unit_rad(theta);
    if (convex) {
        const Vec2 corner = on_inside(board, end, shoulder.inside_mm);
        return {corner, corner + reach, theta, face_mm};
    }
    const Vec2 corner = on_outside(board, end, shoulder.outside_mm);
    return {corner - reach, corner, theta, face_mm};
}

}  // namespace

JointContact joint_contact(const Joint& joint, const MadeBoard& before, const MadeBoard& after) {
    const bool convex = joint.interior_deg < 180.0;
    JointContact contact;
    contact.corner = joint.corner;
    switch (joint.kind) {
        case JointKind::mitre:
            contact.own = end_face(after, kStart);
            contact.other = end_face(before, kFinish);
            break;
        case JointKind::butt:
            ENSURE(joint.through == joint.after || joint.through == joint.before);
            contact.held_outside = convex;
            if (joint.through == joint.after) {
                contact.other = end_face(before, kFinish);
                contact.own = near_edge(after, kStart, convex, contact.other.face_mm);
            } else {
                contact.own = end_face(after, kStart);
                contact.other = near_edge(before, kFinish, convex, contact.own.face_mm);
            }
            break;
        case JointKind::half_lap: {
            const double face_mm = 0.5 * (before.width_at(kFinish) + after.width_at(kStart)) / cos_deg(0.5 * turn_of(joint.interior_deg));
            contact.held_outside = !convex;
            contact.own = lapped(after, kStart, convex, face_mm);
            contact.other = lapped(before, kFinish, convex, face_mm);
            break;
        }
    }
    return contact;
}

Contact free_contact(const MadeBoard& board, std::size_t end) { return end_face(board, end); }

}  // namespace boardring
