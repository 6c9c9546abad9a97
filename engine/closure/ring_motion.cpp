#include "closure/ring_motion.hpp"

#include <array>
#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "closure/chain_walk.hpp"
#include "closure/contact.hpp"

namespace boardring {
namespace {

Vec2 in_plan(const Board& board, Vec2 own) { return board.corner_mm + turned(own, board.along.x, board.along.y); }

// What one unit of a deviation does to an end: the held point of its contact, in the board's coordinates, and its direction.
struct ContactChange {
    Vec2 held_mm;
    double turn_rad = 0.0;
};

ContactChange change_of(const Joint& joint, const Board& board, std::size_t e, ErrorEffect::On on, SlopeBy way) {
    const BoardEnd& end = board.ends[e];
    const double t = e == 0 ? -1.0 : 1.0;
    const double w = board.width_at(e);
    const double cos2 = w * w / (w * w + end.run_mm * end.run_mm);
    const bool marks = way == SlopeBy::marks;
    double shift = 0.0, slope = 0.0, run = 0.0, wider = 0.0;
    switch (on) {
        case ErrorEffect::On::shift: shift = 1.0; break;
        case ErrorEffect::On::run:
            run = marks ? 1.0 : 0.0;
            slope = marks ? cos2 / w : 0.0;
            break;
        case ErrorEffect::On::slope:
            slope = 1.0;
            run = w / cos2;
            break;
        case ErrorEffect::On::width:
            wider = 1.0;
            slope = marks ? -cos2 * end.run_mm / (w * w) : 0.0;
            run = marks ? 0.0 : end.run_mm / w;
            break;
    }
    const bool by_outside = end.run_mm >= 0.0;
    const Vec2 inside{by_outside ? shift - t * run : shift, 0.0};
    const Vec2 outside{by_outside ? shift : shift + t * run, -wider};
    const bool convex = joint.interior_deg < 180.0;
    switch (joint.kind) {
        case JointKind::mitre: return {inside, t * slope};
        case JointKind::butt:
            if (end.runs_through) return {convex ? inside : outside, 0.0};
            return {convex ? outside : inside, t * slope};
        case JointKind::half_lap: return {convex ? inside : outside, 0.5 * t * slope};
    }
    ENSURE(false);
    return {};
}

// A free end meets a line as a mitre meets its mate: by its own face, held at the inside mark.
const Joint kFreeEnd;

}  // namespace

std::vector<RingMotion::JointPlace> joint_places(const Frame& frame) {
    const std::vector<MadeBoard> exact = exact_boards(frame);
    std::vector<RingMotion::JointPlace> places;
    const auto add = [&places](const Board& own, const Contact& face, bool held_outside) {
        RingMotion::JointPlace place;
        place.inner_mm = in_plan(own, face.inner_mm);
        place.outer_mm = in_plan(own, face.outer_mm);
        place.held_mm = held_outside ? place.outer_mm : place.inner_mm;
        place.e = turned(own.along, std::cos(face.theta_rad), std::sin(face.theta_rad));
        place.m = right_of(place.e);
        places.push_back(place);
    };
    const auto add_free_end = [&](std::size_t board, std::size_t e) {
        const Contact face = free_contact(exact[board], e);
        add(frame.boards[board], face, false);
        places.back().face_mm = face.face_mm;
        places.back().saw_before_deg = frame.boards[board].ends[e].saw_deg;
    };
    if (!frame.closed) add_free_end(0, 0);
    for (const Joint& joint : frame.joints) {
        const JointContact contact = joint_contact(joint, exact[joint.before], exact[joint.after]);
        add(frame.boards[joint.after], contact.own, contact.held_outside);
        places.back().face_mm = contact.other.face_mm;
        places.back().saw_before_deg = frame.boards[joint.before].ends[1].saw_deg;
    }
    if (!frame.closed) add_free_end(exact.size() - 1, 1);
    return places;
}

RingMotion ring_motion(const Frame& frame) {
    ENSURE(frame.closed && frame.joints.size() == frame.boards.size());
    RingMotion ring;
    ring.joints = joint_places(frame);
    for (const RingMotion::JointPlace& place : ring.joints) ring.middle_mm = ring.middle_mm + place.inner_mm;
    ring.middle_mm = (1.0 / static_cast<double>(ring.joints.size())) * ring.middle_mm;
    return ring;
}

std::vector<OpeningColumns> opening_columns(const RingMotion& ring) {
    std::vector<OpeningColumns> columns;
    for (const RingMotion::JointPlace& at : ring.joints) {
        const Vec2 swing = (1.0 / at.face_mm) * left_of(ring.middle_mm - at.inner_mm);
        const double turn = 1.0 / at.face_mm;
        columns.push_back({{-at.m.x - swing.x, -at.m.y - swing.y, -turn}, {swing.x, swing.y, turn}, {-at.e.x, -at.e.y, 0.0}});
    }
    return columns;
}

std::vector<FaceChange> face_changes(const Frame& frame, const ErrorModel& model, const ErrorInput& input) {
    std::vector<FaceChange> changes;
    for (const ErrorEffect& effect : input.effects) {
        const Board& board = frame.boards[effect.board];
        for (std::size_t e = 0; e < 2; ++e) {
            if (effect.on != ErrorEffect::On::width && e != effect.end) continue;
            const std::size_t n = frame.boards.size(), at = effect.board + e, corner = frame.closed ? at % n : at;
            const bool is_free = !frame.closed && (at == 0 || at == n);
            const Joint& joint = is_free ? kFreeEnd : frame.joints[frame.closed ? corner : corner - 1];
            const ContactChange change = change_of(joint, board, e, effect.on, model.way);
            const Vec2 held = effect.per_sd * turned(change.held_mm, board.along.x, board.along.y);
            changes.push_back({corner, e, held, effect.per_sd * change.turn_rad});
        }
    }
    return changes;
}

std::vector<Twist> error_twists(const Frame& frame, const RingMotion& ring, const ErrorModel& model) {
    std::vector<Twist> twists(model.inputs.size());
    for (std::size_t j = 0; j < model.inputs.size(); ++j) {
        for (const FaceChange& change : face_changes(frame, model, model.inputs[j])) {
            // The face of the board that ends there carries what follows along; that of the other carries it the opposite way.
            const double way = change.end == 1 ? 1.0 : -1.0;
            const Vec2 swing = left_of(ring.middle_mm - ring.joints[change.corner].held_mm);
            twists[j][0] += way * (change.held_mm.x + change.turn_rad * swing.x);
            twists[j][1] += way * (change.held_mm.y + change.turn_rad * swing.y);
            twists[j][2] += way * change.turn_rad;
        }
    }
    return twists;
}

Twist twist_of(const Frame& frame, const RingMotion& ring, const std::vector<MadeBoard>& made) {
    const Board& first = frame.boards.front();
    Pose pose{first.corner_mm, 0.0, first.along};
    const Vec2 middle = pose.own(ring.middle_mm);
    // The heading counts from board 1's own direction.
    Pose walked;
    for (std::size_t k = 1; k <= frame.boards.size(); ++k) {
        const Joint& joint = frame.joints[k % frame.boards.size()];
        walked = held_tight(walked, joint_contact(joint, made[joint.before], made[joint.after]));
    }
    const Vec2 moved = turned(walked.place(middle) - middle, first.along.x, first.along.y);
    return {moved.x, moved.y, walked.heading_rad - 2.0 * kPi};
}

StiffShown shown_at(const RingMotion& ring, std::size_t corner, const Twist& twist) {
    const RingMotion::JointPlace& at = ring.joints[corner];
    const Vec2 moved = Vec2{twist[0], twist[1]} + twist[2] * left_of(at.inner_mm - ring.middle_mm);
    const double gap_in_mm = dot(moved, at.m);
    return {gap_in_mm, gap_in_mm - at.face_mm * twist[2], dot(moved, at.e), -twist[2]};
}

}  // namespace boardring
