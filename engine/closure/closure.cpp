#include "closure/closure.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "closure/chain_walk.hpp"
#include "closure/contact.hpp"
#include "closure/made_board.hpp"
#include "closure/open_chain.hpp"
#include "closure/spread.hpp"

namespace boardring {
namespace {

// A miss smaller than this part of the perimeter is our own arithmetic: nothing is left.
constexpr double kNothingLeft = 1e-9;

// A rounding must move joint A by this share more than an earlier one to be called the worst.
constexpr double kWorse = 1e-9;

std::vector<MadeBoard> make_boards(const Frame& frame, auto&& how) {
    std::vector<MadeBoard> made;
    made.reserve(frame.boards.size());
    for (const Board& board : frame.boards) made.push_back(how(board));
    return made;
}

double perimeter_mm(const Frame& frame) {
    double sum = 0.0;
    for (const Board& board : frame.boards) sum += board.side_mm;
    return sum;
}

std::vector<JointContact> joint_contacts(const Frame& frame, const std::vector<MadeBoard>& made) {
    std::vector<JointContact> contacts;
    contacts.reserve(frame.joints.size());
    for (const Joint& joint : frame.joints) contacts.push_back(joint_contact(joint, made[joint.before], made[joint.after]));
    return contacts;
}

// Closed rings: contacts in the order in which a walk from board 0 meets them, and joint A.
struct RingContacts {
    std::vector<JointContact> held;  // joints B, C, ...
    JointContact last;               // joint A

    explicit RingContacts(const std::vector<JointContact>& by_corner)
        : held(by_corner.begin() + 1, by_corner.end()), last(by_corner.front()) {}
};

// Board 0 as joint A meets it from behind: once round.
Pose once_round(Pose first) {
    first.heading_rad += 2.0 * kPi;
    return first;
}

double larger_miss_mm(const JointMisfit& m) {
    return std::max(std::hypot(m.gap_in_mm, m.lip_in_mm), std::hypot(m.gap_out_mm, m.lip_out_mm));
}

StiffClosure hold_stiff(const RingContacts& ring, double perimeter) {
    const Pose first;
    const Pose last = walk_tight(first, ring.held).back();
    StiffClosure stiff;
    stiff.last = misfit_at(once_round(first), last, ring.last);
    const double miss_mm = std::hypot(stiff.last.gap_in_mm, stiff.last.lip_in_mm);
    if (miss_mm > kNothingLeft * perimeter) stiff.one_in = perimeter / miss_mm;
    return stiff;
}

// How the joints of boards that lie where the plan has them look.
std::vector<JointState> laid_out(const Frame& frame, const std::vector<JointContact>& contacts) {
    std::vector<JointState> states;
    states.reserve(contacts.size());
    for (std::size_t c = 0; c < contacts.size(); ++c) {
        const Joint& joint = frame.joints[c];
        const Board& before = frame.boards[joint.before];
        const Board& after = frame.boards[joint.after];
        // In the board's own directions, so that the turn is exactly T.
        const double turn = radians(turn_of(joint.interior_deg));
        const Pose other{before.corner_mm, 0.0, before.along};
        const Pose own{after.corner_mm, turn, after.along};
        const Vec2 e = turned(after.along, std::cos(contacts[c].own.theta_rad), std::sin(contacts[c].own.theta_rad));
        const Vec2 inner = other.place(contacts[c].other.inner_mm) - own.place(contacts[c].own.inner_mm);
        states.push_back({dot(inner, right_of(e)), dot(inner, e), turn - contacts[c].turn_rad()});
    }
    return states;
}

// Everything about one frame that all three ways of making it share.
struct Case {
    const Frame& frame;
    double perimeter;
    std::vector<MadeBoard> exact;
    std::vector<JointContact> exact_contacts;

    explicit Case(const Frame& f)
        : frame(f), perimeter(perimeter_mm(f)), exact(make_boards(f, exact_board)), exact_contacts(joint_contacts(f, exact)) {}
};

ClosureReport report_on(const Case& c, const std::vector<MadeBoard>& made) {
    ClosureReport report;
    if (c.frame.closed) {
        const std::vector<JointContact> contacts = joint_contacts(c.frame, made);
        report.stiff = hold_stiff(RingContacts(contacts), c.perimeter);
        report.spread = draw_in(contacts, laid_out(c.frame, contacts), c.perimeter);
        return report;
    }
    const SpanMiss miss = walk_open(c.frame, open_chain(c.frame, c.exact), c.exact, made);
    report.span_off_mm = miss.off_mm;
    report.span_across_mm = miss.across_mm;
    report.span_angle_deg = degrees(miss.angle_rad);
    return report;
}

// What one deviation leaves, in a walk of constant cost: all else is exact, so the chain before the joint it touches and the
// chain after it are known.
class OneByOne {
public:
    explicit OneByOne(const Case& c) : case_(c) {
        if (!c.frame.closed) chain_ = open_chain(c.frame, c.exact);
        const auto first = c.exact_contacts.begin() + (c.frame.closed ? 1 : 0);
        poses_ = walk_tight(Pose{}, {first, c.exact_contacts.end()});
    }

    [[nodiscard]] double left_mm(std::size_t board, const Deviation& deviation) const {
        MadeBoard made = case_.exact[board];
        made.ends[deviation.end] = deviation.made;
        return case_.frame.closed ? closed_left_mm(board, deviation.end, made) : open_left_mm(board, deviation.end, made);
    }

private:
    // The last board's pose when the joint between `board` - 1 and `board` is this one.
    [[nodiscard]] Pose last_after(std::size_t board, const JointContact& contact) const {
        return held_tight(poses_[board - 1], contact).compose(poses_.back().seen_from(poses_[board]));
    }

    [[nodiscard]] double closed_left_mm(std::size_t board, std::size_t end, const MadeBoard& made) const {
        const std::size_t n = case_.exact.size();
        const std::size_t corner = (board + end) % n;
        const std::size_t before = corner == 0 ? n - 1 : corner - 1;
        const MadeBoard& ends_there = end == 1 ? made : case_.exact[before];
        const MadeBoard& starts_there = end == 0 ? made : case_.exact[corner];
        const JointContact contact = joint_contact(case_.frame.joints[corner], ends_there, starts_there);
        if (corner == 0) return larger_miss_mm(misfit_at(once_round(Pose{}), poses_.back(), contact));
        return larger_miss_mm(misfit_at(once_round(Pose{}), last_after(corner, contact), case_.exact_contacts.front()));
    }

    [[nodiscard]] double open_left_mm(std::size_t board, std::size_t end, const MadeBoard& made) const {
        const std::size_t n = case_.exact.size();
        Pose last = poses_.back();
        Contact finish = free_contact(case_.exact.back(), 1);
        if (board == 0 && end == 0) {
            last = on_first_end(case_.exact.front(), made).compose(poses_.back());
        } else if (board + end == n) {
            finish = free_contact(made, 1);
        } else {
            const std::size_t after = board + end;
            const MadeBoard& ends_there = end == 1 ? made : case_.exact[after - 1];
            const MadeBoard& starts_there = end == 0 ? made : case_.exact[after];
            last = last_after(after, joint_contact(case_.frame.joints[after - 1], ends_there, starts_there));
        }
        const SpanMiss miss = span_miss(chain_, at_pose(last, finish));
        return std::hypot(miss.off_mm, miss.across_mm);
    }

    const Case& case_;
    OpenChain chain_;
    std::vector<Pose> poses_;
};

using Deviations = std::vector<Deviation> (*)(const Board&, const Bench&, const BoardNudges&);

std::optional<WorstRounding> worst_of(const Case& c, const Bench& bench, const std::vector<BoardNudges>& nudges,
                                      Deviations deviations) {
    const OneByOne one(c);
    std::optional<WorstRounding> worst;
    for (std::size_t k = 0; k < c.frame.boards.size(); ++k) {
        for (const Deviation& deviation : deviations(c.frame.boards[k], bench, nudges[k])) {
            const double left_mm = one.left_mm(k, deviation);
            const double to_beat_mm = worst ? worst->stiff_gap_mm * (1.0 + kWorse) : kNothingLeft * c.perimeter;
            if (left_mm > to_beat_mm) worst = WorstRounding{k, deviation.end, deviation.what, deviation.moved, left_mm};
        }
    }
    return worst;
}

}  // namespace

Closure close_frame(const Project& project, const Frame& frame) {
    return close_frame(project, frame, std::vector<BoardNudges>(frame.boards.size()));
}

Closure close_frame(const Project& project, const Frame& frame, const std::vector<BoardNudges>& nudges) {
    ENSURE(!frame.boards.empty());
    ENSURE(frame.joints.size() + (frame.closed ? 0 : 1) == frame.boards.size());
    ENSURE(nudges.size() == frame.boards.size());
    const Case c(frame);
    const Bench bench = Bench::of(project.tools, frame);
    std::vector<MadeBoard> marked, set;
    for (std::size_t k = 0; k < frame.boards.size(); ++k) {
        set.push_back(set_board(frame.boards[k], bench, nudges[k]));
        const bool plain = nudges[k] == BoardNudges{} || bench.slope_by == SlopeBy::marks;
        marked.push_back(plain ? marked_board(frame.boards[k], bench, nudges[k])
                               : marked_board(board_as_made(frame.boards[k], set.back()), bench));
    }
    Closure closure;
    closure.exact = report_on(c, c.exact);
    closure.marked = report_on(c, marked);
    closure.set = report_on(c, set);
    closure.worst_marked = worst_of(c, bench, nudges, marked_deviations);
    closure.worst_set = worst_of(c, bench, nudges, set_deviations);
    return closure;
}

ClosureReport close_made(const Frame& frame, const std::vector<MadeBoard>& made) { return report_on(Case(frame), made); }

JointMisfit stiff_at(const Frame& frame, const std::vector<MadeBoard>& made, std::size_t corner) {
    ENSURE(frame.closed);
    std::vector<JointContact> contacts = joint_contacts(frame, made);
    std::rotate(contacts.begin(), contacts.begin() + static_cast<std::ptrdiff_t>(corner), contacts.end());
    return hold_stiff(RingContacts(contacts), perimeter_mm(frame)).last;
}

}  // namespace boardring
