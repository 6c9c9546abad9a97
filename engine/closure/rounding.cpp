#include "closure/rounding.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <utility>

#include "base/angle.hpp"
#include "base/ensure.hpp"
#include "closure/chain_walk.hpp"
#include "closure/contact.hpp"
#include "closure/least_miss.hpp"
#include "project/joint_kinds.hpp"

namespace boardring {
namespace {

// Angles nearer than this are one setting of the bevel [deg]; a cut list calls them one setting too.
constexpr double kOneBevelDeg = 1e-6;

// Ways that are best on the linear chain and leave more than the best by less than this part of the rule's step are walked exactly.
constexpr double kNear = 0.2;

constexpr std::size_t kMostWalked = 64;         // ways walked exactly in a small ring
constexpr std::size_t kBoardsWalked = 4000;     // and how many boards in all
constexpr double kWorthIt = 0.1;                // of the wanted gap: less is no reason to write another number than the nearest
constexpr double kSlackRad = 1e-9;              // of a limit that is just met

// One number of one board, to be rounded with all boards that are the same piece.
struct Place {
    std::size_t board = 0;
    RoundedNumber number;
};

// Numbers that go the same way.
struct Choice {
    std::vector<Place> places;
};

struct Ring {
    const Project& project;
    const Frame& frame;
    Bench bench;
    std::vector<AlikeBoard> alike;
    std::vector<std::vector<std::size_t>> members;  // by first board: the boards that are that piece

    Ring(const Project& p, const Frame& f, std::vector<AlikeBoard> a)
        : project(p), frame(f), bench(Bench::of(p.tools, f)), alike(std::move(a)), members(f.boards.size()) {
        for (std::size_t k = alike.size(); k < f.boards.size(); ++k) alike.push_back({k, {}});
        for (std::size_t k = 0; k < f.boards.size(); ++k) members[alike[k].first].push_back(k);
    }

    [[nodiscard]] BoardNudges nudges_of(std::size_t board, const BoardNudges& of_first) const {
        const AlikeBoard& like = alike[board];
        if (like.first == board) return of_first;
        return nudges_like(frame.boards[like.first], of_first, frame.boards[board], like.turn, bench);
    }
    [[nodiscard]] MadeBoard make(std::size_t board, const BoardNudges& nudges) const {
        return bench.slope_by == SlopeBy::marks ? marked_board(frame.boards[board], bench, nudges)
                                                : set_board(frame.boards[board], bench, nudges);
    }
    [[nodiscard]] bool is_first(std::size_t board) const { return alike[board].first == board; }
};

std::vector<Choice> choices_of(const Ring& ring) {
    std::vector<Choice> choices;
    std::vector<std::pair<double, std::size_t>> bevels;  // angle, choice
    for (std::size_t k = 0; k < ring.frame.boards.size() && choices.size() < kMostChoices; ++k) {
        if (!ring.is_first(k)) continue;
        for (const RoundedNumber& number : rounded_numbers(ring.frame.boards[k], ring.bench)) {
            if (choices.size() == kMostChoices) break;
            if (ring.bench.slope_by == SlopeBy::bevel && number.what == RoundedNumber::What::slope) {
                const double deg = std::abs(ring.frame.boards[k].ends[number.end].saw_deg);
                const auto same = std::find_if(bevels.begin(), bevels.end(),
                                               [deg](const auto& bevel) { return std::abs(bevel.first - deg) <= kOneBevelDeg; });
                if (same != bevels.end()) {
                    choices[same->second].places.push_back({k, number});
                    continue;
                }
                bevels.emplace_back(deg, choices.size());
            }
            choices.push_back({{{k, number}}});
        }
    }
    return choices;
}

// Nudges of every board for these ways.
std::vector<BoardNudges> nudges_for(const Ring& ring, const std::vector<Choice>& choices, const Ways& ways) {
    std::vector<BoardNudges> nudges(ring.frame.boards.size());
    for (std::size_t c = 0; c < ways.size(); ++c) {
        if (ways[c] == 0) continue;
        for (const Place& place : choices[c].places) nudge_of(nudges[place.board], place.number) = place.number.other_way;
    }
    for (std::size_t k = 0; k < nudges.size(); ++k) {
        if (!ring.is_first(k)) nudges[k] = ring.nudges_of(k, nudges[ring.alike[k].first]);
    }
    return nudges;
}

std::vector<MadeBoard> make_all(const Ring& ring, const std::vector<BoardNudges>& nudges) {
    std::vector<MadeBoard> made;
    made.reserve(nudges.size());
    for (std::size_t k = 0; k < nudges.size(); ++k) made.push_back(ring.make(k, nudges[k]));
    return made;
}

Miss as_miss(const JointMisfit& misfit) { return {misfit.gap_in_mm, misfit.gap_out_mm, misfit.lip_in_mm}; }

// A ring of boards held stiff, and what one joint made otherwise leaves at joint A.
class StiffRing {
public:
    StiffRing(const Frame& frame, std::vector<MadeBoard> made) : frame_(frame), made_(std::move(made)) {
        for (const Joint& joint : frame.joints) contacts_.push_back(joint_contact(joint, made_[joint.before], made_[joint.after]));
        poses_ = walk_tight(Pose{}, {contacts_.begin() + 1, contacts_.end()});
        miss_ = as_miss(misfit_at(once_round(), poses_.back(), contacts_.front()));
    }

    [[nodiscard]] const Miss& miss() const { return miss_; }
    [[nodiscard]] const std::vector<MadeBoard>& made() const { return made_; }

    // Widest difference of two mitred faces.
    [[nodiscard]] double mismatch_mm() const {
        double widest = 0.0;
        for (std::size_t c = 0; c < contacts_.size(); ++c) {
            if (!is_mitred(frame_.joints[c].kind)) continue;
            widest = std::max(widest, std::abs(contacts_[c].own.face_mm - contacts_[c].other.face_mm));
        }
        return widest;
    }

    // What is left at joint A if this end of a board is made so.
    [[nodiscard]] Miss with_end(std::size_t board, std::size_t end, const MadeBoard& made) const {
        const std::size_t n = frame_.boards.size();
        const std::size_t corner = (board + end) % n;
        const Joint& joint = frame_.joints[corner];
        const JointContact contact =
            joint_contact(joint, end == 1 ? made : made_[joint.before], end == 0 ? made : made_[joint.after]);
        if (corner == 0) return as_miss(misfit_at(once_round(), poses_.back(), contact));
        const Pose last = held_tight(poses_[corner - 1], contact).compose(poses_.back().seen_from(poses_[corner]));
        return as_miss(misfit_at(once_round(), last, contacts_.front()));
    }

private:
    static Pose once_round() {
        Pose first;
        first.heading_rad += 2.0 * kPi;
        return first;
    }

    const Frame& frame_;
    std::vector<MadeBoard> made_;
    std::vector<JointContact> contacts_;
    std::vector<Pose> poses_;
    Miss miss_{};
};

bool same_end(const MadeEnd& a, const MadeEnd& b) {
    if (a.inside_mm != b.inside_mm || a.outside_mm != b.outside_mm || a.run_mm != b.run_mm) return false;
    if (!a.shoulder) return true;
    return a.shoulder->inside_mm == b.shoulder->inside_mm && a.shoulder->outside_mm == b.shoulder->outside_mm &&
           a.shoulder->run_mm == b.shoulder->run_mm;
}

// What a choice taken the other way adds at joint A, to first order: each end it touches on its own.
Miss change_by(const Ring& ring, const StiffRing& base, const std::vector<BoardNudges>& nearest, const Choice& choice) {
    Miss change{};
    std::map<std::size_t, BoardNudges> firsts;  // several places may lie on one board
    for (const Place& place : choice.places) {
        BoardNudges& nudges = firsts.try_emplace(place.board, nearest[place.board]).first->second;
        nudge_of(nudges, place.number) = place.number.other_way;
    }
    for (const auto& [first, nudges] : firsts) {
        for (const std::size_t k : ring.members[first]) {
            const MadeBoard made = ring.make(k, ring.nudges_of(k, nudges));
            for (std::size_t e = 0; e < 2; ++e) {
                if (same_end(made.ends[e], base.made()[k].ends[e])) continue;
                const Miss miss = base.with_end(k, e, made);
                for (std::size_t r = 0; r < 3; ++r) change[r] += miss[r] - base.miss()[r];
            }
        }
    }
    return change;
}

double squares_by(const Ring& ring, const Choice& choice) {
    double squares = 0.0;
    for (const Place& place : choice.places) {
        const double more = place.number.other_mm * place.number.other_mm - place.number.nearest_mm * place.number.nearest_mm;
        squares += more * static_cast<double>(ring.members[place.board].size());
    }
    return squares;
}

// The slope of one end of a first board for each way of the choices that touch it.
struct EndWays {
    std::vector<std::size_t> choices;  // at most 2
    std::vector<double> slope_rad;     // by way, + outside longer
};

using EndKey = std::pair<std::size_t, std::size_t>;  // first board, end

std::map<EndKey, EndWays> ways_of_ends(const Ring& ring, const std::vector<Choice>& choices) {
    std::map<EndKey, std::vector<std::pair<std::size_t, RoundedNumber>>> touching;
    for (std::size_t c = 0; c < choices.size(); ++c) {
        for (const Place& place : choices[c].places) {
            const RoundedNumber::What what = place.number.what;
            if (what == RoundedNumber::What::length || what == RoundedNumber::What::shoulder) continue;
            touching[{place.board, place.number.end}].emplace_back(c, place.number);
        }
    }
    std::map<EndKey, EndWays> ways;
    for (std::size_t k = 0; k < ring.frame.boards.size(); ++k) {
        if (!ring.is_first(k)) continue;
        for (std::size_t e = 0; e < 2; ++e) {
            EndWays& end = ways[{k, e}];
            const auto& numbers = touching[{k, e}];
            for (const auto& number : numbers) end.choices.push_back(number.first);
            for (std::size_t row = 0; row < (std::size_t{1} << numbers.size()); ++row) {
                BoardNudges nudges;
                for (std::size_t i = 0; i < numbers.size(); ++i) {
                    if (((row >> i) & 1U) != 0) nudge_of(nudges, numbers[i].second) = numbers[i].second.other_way;
                }
                const MadeBoard made = ring.make(k, nudges);
                const double run_mm = made.ends[e].shoulder ? made.ends[e].shoulder->run_mm : made.ends[e].run_mm;
                end.slope_rad.push_back(std::atan2(run_mm, made.width_at(e)));
            }
        }
    }
    return ways;
}

// The rules of the joints that choices touch; the others only add to the widest mismatch.
class JointRules {
public:
    JointRules(const Ring& ring, const std::vector<Choice>& choices) : ring_(ring), ends_(ways_of_ends(ring, choices)) {
        double narrowest_mm = ring.frame.boards.front().width_mm;
        for (const Board& board : ring.frame.boards) narrowest_mm = std::min({narrowest_mm, board.width_at(0), board.width_at(1)});
        most_turn_rad_ = ring.project.tools.rule_step_mm / narrowest_mm;
    }

    void add_to(MissProblem& problem) const {
        std::map<std::tuple<EndKey, bool, EndKey, bool, int, bool, std::int64_t>, bool> met;
        for (const Joint& joint : ring_.frame.joints) {
            const Side before = side(joint.before, 1), after = side(joint.after, 0);
            const auto angle = static_cast<std::int64_t>(std::llround(joint.interior_deg / kOneBevelDeg));
            const std::tuple key{before.key, before.flipped,       after.key,
                                 after.flipped, static_cast<int>(joint.kind), joint.through == joint.after, angle};
            if (!met.try_emplace(key, true).second) continue;
            JointRule rule = rule_of(joint, before, after);
            if (rule.choices.empty()) {
                problem.mismatch_mm = std::max(problem.mismatch_mm, rule.mismatch_mm.front());
            } else {
                problem.joints.push_back(std::move(rule));
            }
        }
    }

private:
    struct Side {
        EndKey key;
        bool flipped = false;  // inside and outside swapped: the slope changes its sign
        double exact_rad = 0.0;
        double width_mm = 0.0;
        const EndWays* ways = nullptr;
    };

    [[nodiscard]] Side side(std::size_t board, std::size_t end) const {
        const AlikeBoard& like = ring_.alike[board];
        const Board& b = ring_.frame.boards[board];
        const EndKey key{like.first, like.turn.ends_swapped ? 1 - end : end};
        return {key, like.turn.edges_swapped, std::atan2(b.ends[end].run_mm, b.width_at(end)), b.width_at(end), &ends_.at(key)};
    }

    // The slope of a side when `rule`'s choices go as the bits of `row` say.
    static double slope_rad(const Side& side, const JointRule& rule, std::size_t row) {
        std::size_t own = 0;
        for (std::size_t i = 0; i < side.ways->choices.size(); ++i) {
            const auto at = std::find(rule.choices.begin(), rule.choices.end(), side.ways->choices[i]);
            const auto bit = static_cast<std::size_t>(at - rule.choices.begin());
            own |= ((row >> bit) & 1U) << i;
        }
        return (side.flipped ? -1.0 : 1.0) * side.ways->slope_rad[own];
    }

    [[nodiscard]] JointRule rule_of(const Joint& joint, const Side& before, const Side& after) const {
        JointRule rule;
        for (const Side* side : {&before, &after}) {
            for (const std::size_t c : side->ways->choices) {
                if (std::find(rule.choices.begin(), rule.choices.end(), c) == rule.choices.end()) rule.choices.push_back(c);
            }
        }
        double most_mismatch_mm = 0.5 * ring_.project.tools.rule_step_mm, most_turn_rad = most_turn_rad_;
        for (std::size_t row = 0; row < (std::size_t{1} << rule.choices.size()); ++row) {
            const double p = slope_rad(before, rule, row), o = slope_rad(after, rule, row);
            const double turn_rad = std::abs(turn_off(joint, p - before.exact_rad, o - after.exact_rad));
            const double mismatch_mm =
                is_mitred(joint.kind) ? std::abs(before.width_mm / std::cos(p) - after.width_mm / std::cos(o)) : 0.0;
            if (row == 0) {
                most_mismatch_mm = std::max(most_mismatch_mm, mismatch_mm);
                most_turn_rad = std::max(most_turn_rad, turn_rad);
            }
            rule.mismatch_mm.push_back(mismatch_mm);
            rule.allowed.push_back(mismatch_mm <= most_mismatch_mm + kSameMiss && turn_rad <= most_turn_rad + kSlackRad ? 1 : 0);
        }
        return rule;
    }

    // By how much the boards turn more than they should (closure/contact.hpp).
    static double turn_off(const Joint& joint, double before_rad, double after_rad) {
        switch (joint.kind) {
            case JointKind::mitre: return before_rad + after_rad;
            case JointKind::butt: return joint.through == joint.after ? before_rad : after_rad;
            case JointKind::half_lap: return 0.5 * (before_rad + after_rad);
        }
        ENSURE(false);
        return 0.0;
    }

    const Ring& ring_;
    std::map<EndKey, EndWays> ends_;
    double most_turn_rad_ = 0.0;
};

// Ways in the order of the linear chain, walked exactly; the one that leaves least there.
struct Walked {
    std::size_t which = 0;
    double miss_mm = 0.0;
    std::vector<BoardNudges> nudges;
};

Walked walk_best(const Ring& ring, const std::vector<Choice>& choices, const MissProblem& problem, const std::vector<Ways>& best) {
    using Key = std::tuple<std::int64_t, std::int64_t, std::int64_t>;
    const auto whole = [](double mm) { return static_cast<std::int64_t>(std::llround(mm / kSameMiss)); };
    Walked walked;
    std::optional<Key> least;
    for (std::size_t i = 0; i < best.size(); ++i) {
        std::vector<BoardNudges> nudges = nudges_for(ring, choices, best[i]);
        const StiffRing stiff(ring.frame, make_all(ring, nudges));
        double squares = 0.0;
        for (std::size_t c = 0; c < best[i].size(); ++c) squares += best[i][c] == 1 ? problem.squares[c] : 0.0;
        const double miss_mm = widest_of(stiff.miss());
        const Key key{whole(miss_mm), whole(stiff.mismatch_mm()), whole(squares)};
        if (least && !(key < *least)) continue;
        least = key;
        walked = {i, miss_mm, std::move(nudges)};
    }
    return walked;
}

double linear_miss_mm(const MissProblem& problem, const Ways& ways) {
    Miss miss = problem.base;
    for (std::size_t c = 0; c < ways.size(); ++c) {
        for (std::size_t r = 0; r < 3 && ways[c] == 1; ++r) miss[r] += problem.change[c][r];
    }
    return widest_of(miss);
}

double spread_mm(const Ring& ring, const std::vector<BoardNudges>& nudges) {
    return close_made(ring.frame, make_all(ring, nudges)).spread->widest_mm;
}

}  // namespace

ClosingRounding round_to_close(const Project& project, const Frame& frame, const std::vector<AlikeBoard>& alike) {
    ClosingRounding rounding;
    rounding.nudges.resize(frame.boards.size());
    if (!frame.closed) return rounding;
    const Ring ring(project, frame, project.tools.rounding == Rounding::alike ? alike : std::vector<AlikeBoard>{});
    const std::vector<Choice> choices = choices_of(ring);
    const std::vector<BoardNudges> nearest = nudges_for(ring, choices, Ways(choices.size(), 0));
    const StiffRing base(frame, make_all(ring, nearest));
    rounding.choices = choices.size();
    rounding.before_mm = rounding.value_mm = rounding.linear_mm = widest_of(base.miss());
    rounding.spread_before_mm = rounding.spread_after_mm = spread_mm(ring, nearest);
    rounding.matters = rounding.spread_before_mm > kWorthIt * project.wanted.gap_mm;
    if (project.tools.rounding == Rounding::nearest || choices.empty()) {
        rounding.exact = choices.empty();
        rounding.bound_mm = choices.empty() ? rounding.before_mm : 0.0;
        return rounding;
    }

    MissProblem problem;
    problem.base = base.miss();
    problem.near_mm = kNear * project.tools.rule_step_mm;
    problem.keep = std::clamp<std::size_t>(kBoardsWalked / frame.boards.size(), 1, kMostWalked);
    for (const Choice& choice : choices) {
        problem.change.push_back(change_by(ring, base, nearest, choice));
        problem.squares.push_back(squares_by(ring, choice));
    }
    JointRules(ring, choices).add_to(problem);
    const MissAnswer answer = least_miss(problem);
    Walked walked = walk_best(ring, choices, problem, answer.best);
    rounding.exact = answer.exact;
    rounding.bound_mm = answer.bound_mm;
    if (walked.miss_mm >= rounding.before_mm - kSameMiss) return rounding;
    rounding.value_mm = walked.miss_mm;
    rounding.linear_mm = linear_miss_mm(problem, answer.best[walked.which]);
    rounding.spread_after_mm = spread_mm(ring, walked.nudges);
    const Ways& ways = answer.best[walked.which];
    rounding.other_way = static_cast<std::size_t>(std::count(ways.begin(), ways.end(), std::uint8_t{1}));
    const bool worth_it = rounding.before_mm - rounding.value_mm > kWorthIt * project.wanted.gap_mm;
    if (!rounding.matters || !worth_it) return rounding;
    rounding.applied = true;
    rounding.nudges = std::move(walked.nudges);
    return rounding;
}

Frame frame_as_set(const Project& project, const Frame& frame, const ClosingRounding& rounding) {
    if (!rounding.applied) return frame;
    const Bench bench = Bench::of(project.tools, frame);
    const bool by_marks = bench.slope_by == SlopeBy::marks;
    Frame set = frame;
    for (std::size_t k = 0; k < set.boards.size(); ++k) {
        const Board& exact = frame.boards[k];
        const BoardNudges& nudges = rounding.nudges[k];
        Board& board = set.boards[k];
        board = board_as_made(exact, by_marks ? marked_board(exact, bench, nudges) : set_board(exact, bench, nudges));
        if (bench.slope_by != SlopeBy::saw) continue;
        for (std::size_t e = 0; e < 2; ++e) board.ends[e].saw_deg = set_saw_deg(exact.ends[e].saw_deg, bench, nudges.ends[e].slope);
    }
    return set;
}

}  // namespace boardring
