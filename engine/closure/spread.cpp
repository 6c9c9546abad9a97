// The unknowns are the joints' three numbers; the boards follow by walking the chain. Each round linearises the exact chain
// where it stands and solves for the least openings; a fixed point meets the exact equations and the exact condition of a
// minimum, since both are then taken at the answer itself.
#include "closure/spread.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "closure/force_walk.hpp"
#include "closure/least_opening.hpp"

namespace boardring {
namespace {

constexpr int kMostRounds = 40;

// Cosine of the angle left at a joint below which its face is no lever any more.
constexpr double kNoLever = 1e-6;

// Ties: a joint must open by this share more than an earlier one to be called the widest.
constexpr double kWider = 1e-9;

Vec2 unit_rad(double rad) { return {std::cos(rad), std::sin(rad)}; }

struct Walked {
    std::vector<Pose> poses;  // board 0 .. n-1, then board 0 again where the chain puts it
    Vec2 middle_mm;           // of all inner points
    Twist missed{};           // the motion that would bring the last pose onto the first, taken at the middle
};

Walked walk(const std::vector<JointContact>& contacts, const std::vector<JointState>& states) {
    const std::size_t n = contacts.size();
    Walked walked;
    walked.poses.reserve(n + 1);
    walked.poses.push_back(Pose{});
    for (std::size_t k = 1; k <= n; ++k) {
        const Pose& other = walked.poses.back();
        const JointContact& contact = contacts[k % n];
        walked.middle_mm = walked.middle_mm + other.place(contact.other.inner_mm);
        walked.poses.push_back(held_with(other, contact, states[k % n]));
    }
    walked.middle_mm = (1.0 / static_cast<double>(n)) * walked.middle_mm;
    const Pose& end = walked.poses.back();
    const Vec2 shift = walked.middle_mm - end.place(walked.middle_mm);
    walked.missed = {shift.x, shift.y, 2.0 * kPi - end.heading_rad};
    return walked;
}

// Motion of everything after a joint: the own board moves by -(gap m + lip e) and turns by the angle left about the other's
// inner point.
OpeningColumns columns_at(const Pose& own, const Pose& other, const JointContact& contact, Vec2 middle_mm, double lever_mm) {
    const Vec2 e = unit_rad(own.heading_rad + contact.own.theta_rad);
    const Vec2 m = right_of(e);
    const Vec2 swing = left_of(middle_mm - other.place(contact.other.inner_mm));
    const double turn = 1.0 / lever_mm;
    return {{-m.x - turn * swing.x, -m.y - turn * swing.y, -turn}, {turn * swing.x, turn * swing.y, turn}, {-e.x, -e.y, 0.0}};
}

void accumulate(Twist& to, const OpeningColumns& columns, const Opening& x) {
    for (std::size_t i = 0; i < 3; ++i) {
        to[i] += columns.gap_in[i] * x.gap_in + columns.gap_out[i] * x.gap_out + columns.lip_in[i] * x.lip_in;
    }
}

SpreadClosure report(const std::vector<JointContact>& contacts, const std::vector<JointState>& states, bool settled) {
    SpreadClosure closure;
    closure.settled = settled;
    closure.corner = contacts.front().corner;
    for (std::size_t c = 0; c < contacts.size(); ++c) {
        const JointMisfit misfit = misfit_of(contacts[c], states[c]);
        const double widest = std::max(misfit.gap_in_mm, misfit.gap_out_mm);
        if (widest > closure.widest_mm * (1.0 + kWider)) {
            closure.widest_mm = widest;
            closure.corner = misfit.corner;
        }
        closure.lip_mm = std::max(closure.lip_mm, std::abs(misfit.lip_in_mm));
        closure.joints.push_back(misfit);
    }
    return closure;
}

}  // namespace

SpreadClosure draw_in(const std::vector<JointContact>& contacts, const std::vector<JointState>& start, double perimeter_mm) {
    const std::size_t n = contacts.size();
    ENSURE(n >= 3 && start.size() == n && perimeter_mm > 0.0);
    const double enough_mm = kDrawnIn * perimeter_mm;
    std::vector<JointState> states = start;
    std::vector<OpeningColumns> columns(n);
    for (int round = 0; round < kMostRounds; ++round) {
        const Walked walked = walk(contacts, states);
        Twist wanted = walked.missed;
        for (std::size_t k = 1; k <= n; ++k) {
            const std::size_t c = k % n;
            const JointState& state = states[c];
            if (!(std::cos(state.left_rad) > kNoLever)) return report(contacts, states, false);
            const double lever_mm = contacts[c].other.face_mm * std::cos(state.left_rad);
            columns[c] = columns_at(walked.poses[k], walked.poses[k - 1], contacts[c], walked.middle_mm, lever_mm);
            accumulate(wanted, columns[c], {state.gap_in_mm, state.gap_out_mm(contacts[c].other.face_mm), state.lip_in_mm});
        }
        const LeastOpening least = least_opening(columns, wanted);
        if (!least.met) return report(contacts, states, false);
        double change_mm = 0.0;
        for (std::size_t c = 0; c < n; ++c) {
            const Opening& x = least.openings[c];
            const double face_mm = contacts[c].other.face_mm;
            change_mm = std::max(change_mm, std::abs(x.gap_in - states[c].gap_in_mm));
            change_mm = std::max(change_mm, std::abs(x.gap_out - states[c].gap_out_mm(face_mm)));
            change_mm = std::max(change_mm, std::abs(x.lip_in - states[c].lip_in_mm));
            states[c] = {x.gap_in, x.lip_in, std::asin(std::clamp((x.gap_out - x.gap_in) / face_mm, -1.0, 1.0))};
        }
        const double missed_mm = std::hypot(walked.missed[0], walked.missed[1]) + std::abs(walked.missed[2]) * perimeter_mm;
        if (change_mm <= enough_mm && missed_mm <= 10.0 * enough_mm) return report(contacts, states, true);
        const auto closed = close_by_force(contacts, states, least.force, walked.middle_mm, enough_mm, perimeter_mm);
        if (closed) return report(contacts, *closed, true);
    }
    return report(contacts, states, false);
}

}  // namespace boardring
