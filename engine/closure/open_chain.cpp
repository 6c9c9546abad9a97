#include "closure/open_chain.hpp"

#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"

namespace boardring {
namespace {

// Free ends nearer than this part of the perimeter meet: there is no line between them.
constexpr double kMeet = 1e-9;

}  // namespace

OpenChain open_chain(const Frame& frame, const std::vector<MadeBoard>& exact) {
    ENSURE(!frame.closed && exact.size() == frame.boards.size());
    const Board& board = frame.boards.front();
    const Pose first{board.corner_mm, 0.0, board.along};
    double turn_deg = 0.0, perimeter_mm = 0.0;
    for (const Joint& joint : frame.joints) turn_deg += turn_of(joint.interior_deg);
    for (const Board& b : frame.boards) perimeter_mm += b.side_mm;
    OpenChain chain;
    chain.wanted_inner_mm = first.own(frame.boards.back().plan_mm()[3]);
    chain.wanted_rad = radians(turn_deg) + free_contact(exact.back(), 1).theta_rad;
    const Vec2 span = chain.wanted_inner_mm - free_contact(exact.front(), 0).inner_mm;
    if (length(span) > kMeet * perimeter_mm) {
        chain.span_mm = length(span);
        chain.along = (1.0 / chain.span_mm) * span;
    }
    return chain;
}

Pose on_first_end(const MadeBoard& exact, const MadeBoard& made) {
    const Contact there = free_contact(exact, 0);
    const Contact own = free_contact(made, 0);
    const Pose turned_only = Pose::at({}, there.theta_rad - own.theta_rad);
    return {there.inner_mm - turned_only.place(own.inner_mm), turned_only.heading_rad, turned_only.along};
}

Contact at_pose(const Pose& pose, const Contact& contact) {
    return {pose.place(contact.inner_mm), pose.place(contact.outer_mm), contact.theta_rad + pose.heading_rad, contact.face_mm};
}

SpanMiss span_miss(const OpenChain& chain, const Contact& finish) {
    const Vec2 miss = finish.inner_mm - chain.wanted_inner_mm;
    return {dot(miss, chain.along), dot(miss, left_of(chain.along)), finish.theta_rad - chain.wanted_rad};
}

SpanMiss walk_open(const Frame& frame, const OpenChain& chain, const std::vector<MadeBoard>& exact, const std::vector<MadeBoard>& made) {
    Pose pose = on_first_end(exact.front(), made.front());
    for (const Joint& joint : frame.joints) pose = held_tight(pose, joint_contact(joint, made[joint.before], made[joint.after]));
    return span_miss(chain, at_pose(pose, free_contact(made.back(), 1)));
}

LaidChain laid_on_line(const OpenChain& chain, const SpanMiss& miss) {
    const double along_mm = chain.span_mm + miss.off_mm;
    const double swing_rad = chain.span_mm > 0.0 ? std::atan2(miss.across_mm, along_mm) : 0.0;
    return {std::hypot(along_mm, miss.across_mm) - chain.span_mm, {-swing_rad, miss.angle_rad - swing_rad}};
}

}  // namespace boardring
