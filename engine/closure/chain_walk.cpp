#include "closure/chain_walk.hpp"

#include <cmath>

#include "base/angle.hpp"

namespace boardring {
namespace {

Vec2 unit_rad(double rad) { return {std::cos(rad), std::sin(rad)}; }

}  // namespace

Pose Pose::at(Vec2 origin_mm, double heading_rad) { return {origin_mm, heading_rad, unit_rad(heading_rad)}; }

Pose Pose::seen_from(const Pose& base) const { return at(base.own(origin_mm), heading_rad - base.heading_rad); }

Pose Pose::compose(const Pose& inner) const { return at(place(inner.origin_mm), heading_rad + inner.heading_rad); }

Pose held_tight(const Pose& other, const JointContact& contact) {
    const double heading = other.heading_rad + contact.turn_rad();
    const Vec2 along = unit_rad(heading);
    const Vec2 theirs = other.place(contact.held_outside ? contact.other.outer_mm : contact.other.inner_mm);
    const Vec2 ours = contact.held_outside ? contact.own.outer_mm : contact.own.inner_mm;
    return {theirs - turned(ours, along.x, along.y), heading, along};
}

Pose held_with(const Pose& other, const JointContact& contact, const JointState& state) {
    const double heading = other.heading_rad + contact.turn_rad() + state.left_rad;
    const Vec2 along = unit_rad(heading);
    const Vec2 e = unit_rad(heading + contact.own.theta_rad);
    const Vec2 inner = other.place(contact.other.inner_mm) - state.gap_in_mm * right_of(e) - state.lip_in_mm * e;
    return {inner - turned(contact.own.inner_mm, along.x, along.y), heading, along};
}

JointMisfit misfit_at(const Pose& own, const Pose& other, const JointContact& contact) {
    const Vec2 e = unit_rad(own.heading_rad + contact.own.theta_rad);
    const Vec2 m = right_of(e);
    const Vec2 inner = other.place(contact.other.inner_mm) - own.place(contact.own.inner_mm);
    const Vec2 outer = other.place(contact.other.outer_mm) - own.place(contact.own.outer_mm);
    const double left_rad = own.heading_rad - other.heading_rad - contact.turn_rad();
    return {contact.corner, dot(inner, m), dot(outer, m), dot(inner, e), dot(outer, e), degrees(left_rad)};
}

JointMisfit misfit_of(const JointContact& contact, const JointState& state) {
    const double lip_out_mm = state.lip_in_mm + contact.other.face_mm * std::cos(state.left_rad) - contact.own.face_mm;
    const double gap_out_mm = state.gap_out_mm(contact.other.face_mm);
    return {contact.corner, state.gap_in_mm, gap_out_mm, state.lip_in_mm, lip_out_mm, degrees(state.left_rad)};
}

std::vector<Pose> walk_tight(const Pose& first, const std::vector<JointContact>& contacts) {
    std::vector<Pose> poses;
    poses.reserve(contacts.size() + 1);
    poses.push_back(first);
    for (const JointContact& contact : contacts) poses.push_back(held_tight(poses.back(), contact));
    return poses;
}

}  // namespace boardring
