#include "closure/contact.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "closure/chain_walk.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

// An L: five outward corners and, at D, an inward one; boards 40 and 70 wide by turns.
Frame l_shaped(JointKind kind, std::optional<bool> before_runs_through = {}) {
    const Outline outline = outline_through({{0, 0}, {2000, 0}, {2100, 900}, {1000, 1000}, {1050, 2000}, {-50, 1900}});
    Project project = project_for(outline, {40.0, 70.0});
    for (std::size_t c = 0; c < 6; ++c) {
        project.joints[c].kind = kind;
        if (!before_runs_through) continue;
        project.joints[c].through = *before_runs_through ? outline.board_before(c) : outline.board_after(c);
    }
    const Result<Frame> frame = build_frame(project, outline);
    REQUIRE(frame.ok());
    return frame.value();
}

JointContact exact_contact(const Frame& frame, std::size_t c) {
    const Joint& joint = frame.joints[c];
    return joint_contact(joint, exact_board(frame.boards[joint.before]), exact_board(frame.boards[joint.after]));
}

Vec2 in_plan(const Board& board, Vec2 own) { return board.at(own.x, -own.y); }

double apart(Vec2 a, Vec2 b) { return length(a - b); }

}  // namespace

TEST_CASE("contacts of exact boards lie upon each other and turn by T, whatever the joint") {
    const std::vector<Frame> frames = {l_shaped(JointKind::mitre), l_shaped(JointKind::half_lap), l_shaped(JointKind::butt, true),
                                       l_shaped(JointKind::butt, false)};
    for (const Frame& frame : frames) {
        for (std::size_t c = 0; c < 6; ++c) {
            INFO("corner " << c << ", kind " << static_cast<int>(frame.joints[c].kind));
            const JointContact contact = exact_contact(frame, c);
            const Board& own = frame.boards[frame.joints[c].after];
            const Board& other = frame.boards[frame.joints[c].before];
            CHECK(contact.corner == c);
            CHECK_THAT(degrees(contact.turn_rad()), within_deg(180.0 - frame.joints[c].interior_deg, 1e-10));
            CHECK_THAT(apart(in_plan(own, contact.own.inner_mm), in_plan(other, contact.other.inner_mm)), within_mm(0.0, 1e-9));
            CHECK_THAT(apart(in_plan(own, contact.own.outer_mm), in_plan(other, contact.other.outer_mm)), within_mm(0.0, 1e-9));
            for (const Contact& side : {contact.own, contact.other}) {
                const Vec2 e{std::cos(side.theta_rad), std::sin(side.theta_rad)};
                CHECK_THAT(apart(side.inner_mm + side.face_mm * e, side.outer_mm), within_mm(0.0, 1e-9));
            }
        }
    }
}

TEST_CASE("a mitre touches from inner to outer corner") {
    const Frame frame = l_shaped(JointKind::mitre);
    for (std::size_t c = 0; c < 6; ++c) {
        const JointContact contact = exact_contact(frame, c);
        const Board& own = frame.boards[c];
        CHECK_FALSE(contact.held_outside);
        CHECK_THAT(apart(in_plan(own, contact.own.inner_mm), frame.joints[c].inner_mm), within_mm(0.0, 1e-9));
        CHECK_THAT(apart(in_plan(own, contact.own.outer_mm), frame.joints[c].outer_mm), within_mm(0.0, 1e-9));
    }
}

TEST_CASE("a butt is held flush at the far edge: outside at a convex corner, inside at an inward one") {
    for (const bool before_runs_through : {true, false}) {
        const Frame frame = l_shaped(JointKind::butt, before_runs_through);
        for (std::size_t c = 0; c < 6; ++c) {
            const JointContact contact = exact_contact(frame, c);
            CHECK(contact.held_outside == (c != 3));
            // The stopped board's two marks are the contact.
            const Board& stopped = frame.boards[before_runs_through ? frame.joints[c].after : frame.joints[c].before];
            const BoardEnd& end = stopped.ends[before_runs_through ? 0 : 1];
            const Contact& side = before_runs_through ? contact.own : contact.other;
            CHECK_THAT(side.inner_mm.x, within_mm(end.inside_mm, 1e-12));
            CHECK_THAT(side.outer_mm.x, within_mm(end.outside_mm, 1e-12));
            CHECK_THAT(side.face_mm, within_mm(end.face_mm, 1e-9));
        }
    }
}

TEST_CASE("a half-lap is held at the corner of its shoulders, and end marks do not matter") {
    const Frame frame = l_shaped(JointKind::half_lap);
    for (std::size_t c = 0; c < 6; ++c) {
        const JointContact contact = exact_contact(frame, c);
        const Joint& joint = frame.joints[c];
        CHECK(contact.held_outside == (c == 3));
        const Vec2 corner = contact.held_outside ? contact.own.outer_mm : contact.own.inner_mm;
        const Vec2 expected = contact.held_outside ? joint.outer_mm : joint.inner_mm;
        CHECK_THAT(apart(in_plan(frame.boards[c], corner), expected), within_mm(0.0, 1e-9));

        MadeBoard before = exact_board(frame.boards[joint.before]);
        MadeBoard after = exact_board(frame.boards[joint.after]);
        after.ends[0].inside_mm += 3.0;
        after.ends[0].outside_mm -= 2.0;
        after.ends[0].run_mm += 5.0;
        const JointContact moved = joint_contact(joint, before, after);
        CHECK(moved.own.inner_mm == contact.own.inner_mm);
        CHECK(moved.own.theta_rad == contact.own.theta_rad);
    }
}

TEST_CASE("the turn of a half-lap is the mean of what its two shoulders say") {
    const Frame frame = l_shaped(JointKind::half_lap);
    for (const std::size_t c : {std::size_t{1}, std::size_t{3}}) {
        const Joint& joint = frame.joints[c];
        MadeBoard before = exact_board(frame.boards[joint.before]);
        MadeBoard after = exact_board(frame.boards[joint.after]);
        // Own shoulder a degree steeper than it should be: the joint turns half a degree more.
        after.ends[0].shoulder->run_mm = after.width_mm * tan_deg(frame.boards[joint.after].ends[0].saw_deg + 1.0);
        const double turn = degrees(joint_contact(joint, before, after).turn_rad());
        CHECK_THAT(turn, within_deg(180.0 - joint.interior_deg + 0.5, 1e-9));
    }
}

TEST_CASE("what shows at a joint has the signs of the definition") {
    // A square corner of two 50 mm boards, mitred. The other board (ends here) runs along +x to the corner at the origin, the
    // own one starts there and runs along +y: inside is to the left, the outer corner at (50, -50).
    JointContact contact;
    contact.own = {{0.0, 0.0}, {-50.0, -50.0}, -0.75 * kPi, 50.0 * std::sqrt(2.0)};
    contact.other = {{0.0, 0.0}, {50.0, -50.0}, -0.25 * kPi, 50.0 * std::sqrt(2.0)};
    const Pose other;
    const Pose tight = held_tight(other, contact);
    CHECK_THAT(degrees(tight.heading_rad), within_deg(90.0, 1e-12));
    CHECK_THAT(apart(tight.place({-50.0, -50.0}), {50.0, -50.0}), within_mm(0.0, 1e-12));

    // Own board moved away straight off the face: both gaps open alike.
    const double s = std::sqrt(0.5);
    const JointMisfit away = misfit_at(Pose::at({2.0 * s, 2.0 * s}, 0.5 * kPi), other, contact);
    CHECK_THAT(away.gap_in_mm, within_mm(2.0, 1e-12));
    CHECK_THAT(away.gap_out_mm, within_mm(2.0, 1e-12));
    CHECK_THAT(away.lip_in_mm, within_mm(0.0, 1e-12));
    CHECK_THAT(away.angle_left_deg, within_deg(0.0, 1e-12));

    // Own board moved inwards along the face: the earlier (other) board stands further out.
    const JointMisfit lip = misfit_at(Pose::at({-s, s}, 0.5 * kPi), other, contact);
    CHECK_THAT(lip.lip_in_mm, within_mm(1.0, 1e-12));
    CHECK_THAT(lip.lip_out_mm, within_mm(1.0, 1e-12));
    CHECK_THAT(lip.gap_in_mm, within_mm(0.0, 1e-12));

    // Own board turned on by a degree about the inner corner: it opens outside.
    const JointMisfit turned_on = misfit_at(Pose::at({}, radians(91.0)), other, contact);
    CHECK_THAT(turned_on.angle_left_deg, within_deg(1.0, 1e-12));
    CHECK_THAT(turned_on.gap_out_mm, within_mm(50.0 * std::sqrt(2.0) * sin_deg(1.0), 1e-12));
    CHECK_THAT(turned_on.gap_in_mm, within_mm(0.0, 1e-12));
}

TEST_CASE("a joint laid with a misfit shows that misfit") {
    const Frame frame = l_shaped(JointKind::mitre);
    const JointContact contact = exact_contact(frame, 3);
    const Pose other = Pose::at({12.0, -7.0}, 0.3);
    const JointState state{0.7, -0.4, 0.02};
    const JointMisfit seen = misfit_at(held_with(other, contact, state), other, contact);
    const JointMisfit said = misfit_of(contact, state);
    CHECK_THAT(seen.gap_in_mm, within_mm(0.7, 1e-11));
    CHECK_THAT(seen.lip_in_mm, within_mm(-0.4, 1e-11));
    CHECK_THAT(seen.gap_out_mm, within_mm(said.gap_out_mm, 1e-11));
    CHECK_THAT(seen.lip_out_mm, within_mm(said.lip_out_mm, 1e-11));
    CHECK_THAT(seen.angle_left_deg, within_deg(degrees(0.02), 1e-11));
}
