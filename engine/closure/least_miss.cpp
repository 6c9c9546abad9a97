#include "closure/least_miss.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>
#include <tuple>
#include <utility>

#include "base/ensure.hpp"
#include "closure/linear_bound.hpp"

namespace boardring {
namespace {

constexpr std::size_t kAtATime = 20;    // beyond those counted in full: choices looked at together
constexpr std::size_t kMostRounds = 40;
constexpr std::size_t kNoLimit = std::numeric_limits<std::size_t>::max();
// Where corners may turn but little most ways are refused, no limit comes about, and a leaf would offer all of its 2^24.
constexpr std::size_t kOffersOfLeaf = 512;
constexpr std::size_t kAllKept = 12;    // so few choices that every way may be a candidate

Miss sum(const Miss& a, const Miss& b) { return {a[0] + b[0], a[1] + b[1], a[2] + b[2]}; }

// In whole kSameMiss, so that "the same" is one relation for all.
std::int64_t whole(double mm) { return std::llround(mm / kSameMiss); }

// What ways are compared by, in this order.
struct Candidate {
    std::int64_t miss = 0;
    std::int64_t mismatch = 0;
    std::int64_t squares = 0;
    Ways ways;

    [[nodiscard]] bool before(const Candidate& other) const {
        return std::tie(miss, mismatch, squares, ways) < std::tie(other.miss, other.mismatch, other.squares, other.ways);
    }
};

std::size_t row_of(const JointRule& rule, const Ways& ways) {
    std::size_t row = 0;
    for (std::size_t i = 0; i < rule.choices.size(); ++i) row |= static_cast<std::size_t>(ways[rule.choices[i]]) << i;
    return row;
}

// The best ways found so far.
class Best {
public:
    explicit Best(const MissProblem& problem) : problem_(problem) {}

    // No way that leaves more is worth looking at.
    [[nodiscard]] double limit_mm(bool all) const {
        if (found_.size() >= problem_.keep) return (static_cast<double>(found_.back().miss) + 1.0) * kSameMiss;
        if (all || found_.empty()) return std::numeric_limits<double>::infinity();
        return (static_cast<double>(found_.front().miss) + 1.0) * kSameMiss + problem_.near_mm;
    }

    /// False where a way that leaves so much and moves so far is none of the best, whatever its mismatch: many ways leave the same where one
    /// number of the three can hardly be changed.
    [[nodiscard]] bool may_take(const Miss& miss, double squares) const {
        if (found_.size() < problem_.keep) return true;
        const Candidate& last = found_.back();
        const std::int64_t left = whole(widest_of(miss)), least_mismatch = whole(problem_.mismatch_mm);
        // Squares are summed in another order here than when a way is offered: two whole ones are left for that.
        return left < last.miss || (left == last.miss && (least_mismatch < last.mismatch || whole(squares) <= last.squares + 2));
    }

    void offer(const Ways& ways, const Miss& miss) {
        Candidate candidate{whole(widest_of(miss)), 0, 0, {}};
        if (found_.size() >= problem_.keep && candidate.miss > found_.back().miss) return;
        double mismatch_mm = problem_.mismatch_mm;
        for (const JointRule& rule : problem_.joints) {
            const std::size_t row = row_of(rule, ways);
            if (rule.allowed[row] == 0) return;
            mismatch_mm = std::max(mismatch_mm, rule.mismatch_mm[row]);
        }
        double squares = 0.0;
        for (std::size_t i = 0; i < ways.size(); ++i) squares += ways[i] == 1 ? problem_.squares[i] : 0.0;
        candidate.mismatch = whole(mismatch_mm);
        candidate.squares = whole(squares);
        candidate.ways = ways;
        const auto at = std::lower_bound(found_.begin(), found_.end(), candidate,
                                         [](const Candidate& a, const Candidate& b) { return a.before(b); });
        if (at != found_.end() && !candidate.before(*at)) return;  // met before
        found_.insert(at, std::move(candidate));
        if (found_.size() > problem_.keep) found_.pop_back();
    }

    [[nodiscard]] const std::vector<Candidate>& found() const { return found_; }

private:
    const MissProblem& problem_;
    std::vector<Candidate> found_;
};

// What each way of some choices adds, and that way as bits.
struct Part {
    Miss adds{};
    double squares = 0.0;
    std::uint32_t bits = 0;
};

// Do these rules, of which every choice is among `indices`, allow it?
bool agrees(const std::vector<const JointRule*>& rules, const std::vector<std::size_t>& indices, std::uint32_t bits, Ways& ways) {
    for (std::size_t i = 0; i < indices.size(); ++i) ways[indices[i]] = static_cast<std::uint8_t>((bits >> i) & 1U);
    return std::all_of(rules.begin(), rules.end(), [&](const JointRule* rule) { return rule->allowed[row_of(*rule, ways)] != 0; });
}

std::vector<Part> parts_of(const MissProblem& problem, const std::vector<std::size_t>& indices, Ways ways) {
    std::vector<const JointRule*> rules;
    for (const JointRule& rule : problem.joints) {
        const bool inside = std::all_of(rule.choices.begin(), rule.choices.end(), [&](std::size_t c) {
            return std::find(indices.begin(), indices.end(), c) != indices.end();
        });
        if (inside) rules.push_back(&rule);
    }
    std::vector<Part> sums(std::size_t{1} << indices.size());
    std::vector<Part> parts;
    for (std::uint32_t bits = 0; bits < sums.size(); ++bits) {
        if (bits != 0) {
            std::size_t lowest = 0;
            while (((bits >> lowest) & 1U) == 0) ++lowest;
            const Part& without = sums[bits & (bits - 1)];
            sums[bits] = {sum(without.adds, problem.change[indices[lowest]]), without.squares + problem.squares[indices[lowest]], bits};
        }
        if (agrees(rules, indices, bits, ways)) parts.push_back(sums[bits]);
    }
    return parts;
}

// A joint of which both halves hold choices, or a half and choices that stand still, and which refuses some ways: what each part says of
// its row in the tables.
struct Crossing {
    const JointRule* rule = nullptr;
    bool in_high = false;
    std::vector<std::uint8_t> outer_rows, inner_rows;
};

// The ways of some choices in two lists, ready to be counted with any ways of the others.
class Halves {
public:
    /// \param ways  of the others
    Halves(const MissProblem& problem, const std::vector<std::size_t>& indices, const Ways& ways)
        : all_(indices.size() <= kAllKept),
          squares_(problem.squares),
          low_(indices.begin(), indices.begin() + static_cast<std::ptrdiff_t>(indices.size() / 2)),
          high_(indices.begin() + static_cast<std::ptrdiff_t>(indices.size() / 2), indices.end()),
          outer_(parts_of(problem, low_, ways)),
          inner_(parts_of(problem, high_, ways)) {
        // The number with the widest range parts the ways best.
        std::array<double, 3> range{};
        for (const std::size_t i : indices) {
            for (std::size_t r = 0; r < 3; ++r) range[r] += std::abs(problem.change[i][r]);
        }
        axis_ = static_cast<std::size_t>(std::max_element(range.begin(), range.end()) - range.begin());
        const std::size_t axis = axis_;
        std::stable_sort(inner_.begin(), inner_.end(), [axis](const Part& a, const Part& b) { return a.adds[axis] < b.adds[axis]; });
        find_crossings(problem);
    }

    /// \param fixed        what is left with these choices 0 and the others as in `ways`
    /// \param offers_left  so many ways may be offered
    /// \return false if they ran out
    bool count(const Miss& fixed, Ways ways, Best& best, std::size_t& offers_left) const {
        const std::size_t axis = axis_;
        Matches matches(*this, ways);
        double squares_of_others = 0.0;
        for (std::size_t i = 0; i < ways.size(); ++i) squares_of_others += ways[i] == 1 && !holds(i) ? squares_[i] : 0.0;
        for (std::size_t at = 0; at < outer_.size(); ++at) {
            const Part& a = outer_[at];
            const std::vector<Part>* inner = matches.of(at);
            if (inner == nullptr) continue;
            const Miss so_far = sum(fixed, a.adds);
            double limit_mm = best.limit_mm(all_);
            auto b = std::lower_bound(inner->begin(), inner->end(), -limit_mm - so_far[axis],
                                      [axis](const Part& part, double least) { return part.adds[axis] < least; });
            for (; b != inner->end(); ++b) {
                const Miss miss = sum(so_far, b->adds);
                if (miss[axis] > limit_mm) break;
                if (std::abs(miss[0]) > limit_mm || std::abs(miss[1]) > limit_mm || std::abs(miss[2]) > limit_mm) continue;
                if (offers_left == 0) return false;
                --offers_left;
                if (!best.may_take(miss, squares_of_others + a.squares + b->squares)) continue;
                for (std::size_t i = 0; i < low_.size(); ++i) ways[low_[i]] = static_cast<std::uint8_t>((a.bits >> i) & 1U);
                for (std::size_t i = 0; i < high_.size(); ++i) ways[high_[i]] = static_cast<std::uint8_t>((b->bits >> i) & 1U);
                best.offer(ways, miss);
                limit_mm = best.limit_mm(all_);
            }
        }
        return true;
    }

private:
    // What of the inner list goes with a part of the outer one: looked up once for all parts that say the same at the joints between.
    class Matches {
    public:
        Matches(const Halves& halves, const Ways& ways) : halves_(halves) {
            for (const Crossing& crossing : halves.crossings_) {
                std::size_t row = 0;
                for (std::size_t i = 0; i < crossing.rule->choices.size(); ++i) {
                    const std::size_t choice = crossing.rule->choices[i];
                    if (!halves.holds(choice)) row |= static_cast<std::size_t>(ways[choice]) << i;
                }
                others_.push_back(row);
            }
        }

        /// Null where none does.
        const std::vector<Part>* of(std::size_t outer) {
            std::uint64_t key = 0;
            bool any = false;
            for (std::size_t x = 0; x < halves_.crossings_.size(); ++x) {
                const Crossing& crossing = halves_.crossings_[x];
                if (!crossing.in_high) {
                    if (crossing.rule->allowed[others_[x] | crossing.outer_rows[outer]] == 0) return nullptr;
                    continue;
                }
                any = true;
                key = key << kRowBits | crossing.outer_rows[outer];
            }
            if (!any) return &halves_.inner_;
            const auto found = lists_.find(key);
            if (found != lists_.end()) return found->second.empty() ? nullptr : &found->second;
            // Too many kinds to list: a way is refused where it is offered.
            if (lists_.size() == kMostLists) return &halves_.inner_;
            std::vector<Part>& list = lists_[key];
            for (std::size_t i = 0; i < halves_.inner_.size(); ++i) {
                bool allowed = true;
                for (std::size_t x = 0; x < halves_.crossings_.size() && allowed; ++x) {
                    const Crossing& crossing = halves_.crossings_[x];
                    const std::size_t row = others_[x] | crossing.outer_rows[outer] | crossing.inner_rows[i];
                    allowed = !crossing.in_high || crossing.rule->allowed[row] != 0;
                }
                if (allowed) list.push_back(halves_.inner_[i]);
            }
            return list.empty() ? nullptr : &list;
        }

    private:
        const Halves& halves_;
        std::vector<std::size_t> others_;
        std::map<std::uint64_t, std::vector<Part>> lists_;
    };

    static constexpr std::size_t kRowBits = 4;         // choices of a joint
    static constexpr std::size_t kMostCrossings = 16;  // whose rows fit into a key
    static constexpr std::size_t kMostLists = 64;

    [[nodiscard]] bool holds(std::size_t choice) const { return is_in(low_, choice) || is_in(high_, choice); }
    static bool is_in(const std::vector<std::size_t>& some, std::size_t choice) { return std::find(some.begin(), some.end(), choice) != some.end(); }

    void find_crossings(const MissProblem& problem) {
        for (const JointRule& rule : problem.joints) {
            if (crossings_.size() == kMostCrossings) return;  // the rest is refused where it is offered
            if (std::all_of(rule.allowed.begin(), rule.allowed.end(), [](char allowed) { return allowed != 0; })) continue;
            Crossing crossing;
            crossing.rule = &rule;
            std::size_t low = 0, high = 0;
            for (const std::size_t choice : rule.choices) {
                low += is_in(low_, choice) ? 1U : 0U;
                high += is_in(high_, choice) ? 1U : 0U;
            }
            if (low == rule.choices.size() || high == rule.choices.size() || low + high == 0) continue;  // looked at already, or not ours
            crossing.in_high = high > 0;
            crossing.outer_rows = rows_of(rule, low_, outer_);
            crossing.inner_rows = rows_of(rule, high_, inner_);
            crossings_.push_back(std::move(crossing));
        }
    }

    static std::vector<std::uint8_t> rows_of(const JointRule& rule, const std::vector<std::size_t>& indices, const std::vector<Part>& parts) {
        std::vector<std::uint8_t> rows(parts.size(), 0);
        for (std::size_t i = 0; i < rule.choices.size(); ++i) {
            const auto at = std::find(indices.begin(), indices.end(), rule.choices[i]);
            if (at == indices.end()) continue;
            const auto bit = static_cast<std::size_t>(at - indices.begin());
            for (std::size_t p = 0; p < parts.size(); ++p) rows[p] = static_cast<std::uint8_t>(rows[p] | ((parts[p].bits >> bit) & 1U) << i);
        }
        return rows;
    }

    bool all_;
    const std::vector<double>& squares_;
    std::vector<std::size_t> low_, high_;
    std::vector<Part> outer_, inner_;
    std::size_t axis_ = 0;
    std::vector<Crossing> crossings_;
};

Miss left_by(const MissProblem& problem, const Ways& ways) {
    Miss miss = problem.base;
    for (std::size_t i = 0; i < ways.size(); ++i) {
        if (ways[i] == 1) miss = sum(miss, problem.change[i]);
    }
    return miss;
}

// One choice changed at a time while that helps: a start that lets most ways be passed over.
void descend(const MissProblem& problem, Best& best) {
    for (std::size_t round = 0; round < kMostRounds; ++round) {
        const Candidate start = best.found().front();
        const Miss miss = left_by(problem, start.ways);
        Ways ways = start.ways;
        for (std::size_t i = 0; i < ways.size(); ++i) {
            Miss changed = miss;
            for (std::size_t r = 0; r < 3; ++r) changed[r] += ways[i] == 1 ? -problem.change[i][r] : problem.change[i][r];
            if (whole(widest_of(changed)) > start.miss) continue;
            ways[i] ^= 1U;
            best.offer(ways, changed);
            ways[i] ^= 1U;
        }
        if (!(best.found().front().before(start))) return;
    }
}

// Twenty choices at a time, the others standing still, until a round finds nothing better.
void improve(const MissProblem& problem, Best& best) {
    const std::size_t n = problem.change.size(), at_a_time = std::min(kAtATime, n);
    const std::size_t step = std::max<std::size_t>(1, at_a_time / 2), round = (n + step - 1) / step;
    std::size_t idle = 0;
    for (std::size_t at = 0, tried = 0; idle < round && tried < kMostRounds; at = (at + step) % n, ++tried) {
        const Candidate start = best.found().front();
        if (start.miss == 0) return;
        Ways others = start.ways;
        std::vector<std::size_t> some;
        for (std::size_t i = 0; i < at_a_time; ++i) {
            some.push_back((at + i) % n);
            others[some.back()] = 0;
        }
        std::size_t offers = kNoLimit;
        Halves(problem, some, others).count(left_by(problem, others), others, best, offers);
        idle = best.found().front().before(start) ? 0 : idle + 1;
    }
}

// Branches over the choices that change most until so few are left that they can be counted.
class Branching {
public:
    Branching(const MissProblem& problem, Best& best) : problem_(problem), best_(best), leaves_left_(problem.leaves), offers_left_(problem.leaves * kOffersOfLeaf) {
        const std::size_t n = problem.change.size();
        std::vector<std::size_t> order(n);
        for (std::size_t i = 0; i < n; ++i) order[i] = i;
        std::stable_sort(order.begin(), order.end(),
                         [&](std::size_t a, std::size_t b) { return widest_of(problem.change[a]) > widest_of(problem.change[b]); });
        branched_.assign(order.begin(), order.end() - static_cast<std::ptrdiff_t>(problem.counted));
        std::vector<std::size_t> counted(order.end() - static_cast<std::ptrdiff_t>(problem.counted), order.end());
        std::sort(counted.begin(), counted.end());
        halves_.emplace(problem, counted, Ways(n, 0));
        for (const Miss& y : kDirections) {
            std::vector<double> lowered(branched_.size() + 1, 0.0), raised(lowered);
            for (const std::size_t i : counted) {
                lowered.back() += std::min(0.0, along(y, problem.change[i]));
                raised.back() += std::max(0.0, along(y, problem.change[i]));
            }
            for (std::size_t depth = branched_.size(); depth-- > 0;) {
                const double by = along(y, problem.change[branched_[depth]]);
                lowered[depth] = lowered[depth + 1] + std::min(0.0, by);
                raised[depth] = raised[depth + 1] + std::max(0.0, by);
            }
            lowered_.push_back(std::move(lowered));
            raised_.push_back(std::move(raised));
        }
    }

    /// \return false if the leaves ran out: ways were left uncounted
    bool run() { return below(0, problem_.base, Ways(problem_.change.size(), 0)); }

private:
    // Of |y_1| + |y_2| + |y_3| = 1: any of them bounds the widest number from below; rows alone, pairs and all three.
    static constexpr double kHalf = 0.5, kThird = 1.0 / 3.0;
    static constexpr std::array<Miss, 13> kDirections{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {kHalf, kHalf, 0}, {kHalf, -kHalf, 0},
                                                       {kHalf, 0, kHalf}, {kHalf, 0, -kHalf}, {0, kHalf, kHalf}, {0, kHalf, -kHalf},
                                                       {kThird, kThird, kThird}, {kThird, kThird, -kThird}, {kThird, -kThird, kThird},
                                                       {-kThird, kThird, kThird}}};
    static double along(const Miss& y, const Miss& miss) { return y[0] * miss[0] + y[1] * miss[1] + y[2] * miss[2]; }

    // Least of the widest number below this node, by the directions and their opposites.
    [[nodiscard]] double bound_mm(std::size_t depth, const Miss& miss) const {
        double bound = 0.0;
        for (std::size_t d = 0; d < kDirections.size(); ++d) {
            const double at = along(kDirections[d], miss);
            bound = std::max({bound, at + lowered_[d][depth], -at - raised_[d][depth]});
        }
        return bound;
    }

    bool below(std::size_t depth, const Miss& miss, Ways ways) {
        if (bound_mm(depth, miss) > best_.limit_mm(false)) return true;
        if (depth == branched_.size()) {
            if (leaves_left_ == 0) return false;
            --leaves_left_;
            return halves_->count(miss, std::move(ways), best_, offers_left_);
        }
        const std::size_t i = branched_[depth];
        Ways other = ways;
        other[i] = 1;
        const Miss changed = sum(miss, problem_.change[i]);
        // The more promising side first: what it finds rules out more of the other.
        const bool other_first = bound_mm(depth + 1, changed) < bound_mm(depth + 1, miss);
        if (other_first) return below(depth + 1, changed, std::move(other)) && below(depth + 1, miss, std::move(ways));
        return below(depth + 1, miss, std::move(ways)) && below(depth + 1, changed, std::move(other));
    }

    const MissProblem& problem_;
    Best& best_;
    std::size_t leaves_left_;
    std::size_t offers_left_;
    std::vector<std::size_t> branched_;
    std::optional<Halves> halves_;
    std::vector<std::vector<double>> lowered_, raised_;  // by direction and depth: by how much the choices from there on can
};

// Choices that change nothing anywhere are best left alone.
constexpr double kNoChange = 1e-9;

std::vector<std::size_t> choices_that_matter(const MissProblem& problem) {
    std::vector<char> ruled(problem.change.size(), 0);
    for (const JointRule& rule : problem.joints) {
        for (const std::size_t choice : rule.choices) ruled[choice] = 1;
    }
    std::vector<std::size_t> matter;
    for (std::size_t i = 0; i < ruled.size(); ++i) {
        if (ruled[i] != 0 || problem.squares[i] < 0.0 || widest_of(problem.change[i]) > kNoChange) matter.push_back(i);
    }
    return matter;
}

MissProblem with_only(const MissProblem& problem, const std::vector<std::size_t>& choices) {
    MissProblem only = problem;
    only.change.clear();
    only.squares.clear();
    std::vector<std::size_t> place(problem.change.size(), 0);
    for (std::size_t i = 0; i < choices.size(); ++i) {
        only.change.push_back(problem.change[choices[i]]);
        only.squares.push_back(problem.squares[choices[i]]);
        place[choices[i]] = i;
    }
    for (JointRule& rule : only.joints) {
        for (std::size_t& choice : rule.choices) choice = place[choice];
    }
    return only;
}

}  // namespace

double widest_of(const Miss& miss) { return std::max({std::abs(miss[0]), std::abs(miss[1]), std::abs(miss[2])}); }

MissAnswer least_miss(const MissProblem& problem) {
    const std::size_t n = problem.change.size();
    ENSURE(problem.squares.size() == n && problem.keep > 0 && problem.counted <= kMostCounted);
    const std::vector<std::size_t> matter = choices_that_matter(problem);
    if (matter.size() < n) {
        MissAnswer answer = least_miss(with_only(problem, matter));
        for (Ways& ways : answer.best) {
            Ways all(n, 0);
            for (std::size_t i = 0; i < matter.size(); ++i) all[matter[i]] = ways[i];
            ways = std::move(all);
        }
        return answer;
    }
    Best best(problem);
    best.offer(Ways(n, 0), problem.base);
    ENSURE(!best.found().empty());
    descend(problem, best);

    MissAnswer answer;
    if (n <= problem.counted) {
        std::vector<std::size_t> all(n);
        for (std::size_t i = 0; i < n; ++i) all[i] = i;
        std::size_t offers = kNoLimit;
        Halves(problem, all, Ways(n, 0)).count(problem.base, Ways(n, 0), best, offers);
    } else {
        improve(problem, best);
        answer.exact = best.found().front().miss == 0 || Branching(problem, best).run();
    }
    answer.least_mm = static_cast<double>(best.found().front().miss) * kSameMiss;
    answer.bound_mm = answer.exact ? answer.least_mm : std::min(answer.least_mm, linear_bound_mm(problem.base, problem.change));
    answer.exact = answer.exact || answer.least_mm - answer.bound_mm <= kSameMiss;
    if (answer.exact) answer.bound_mm = answer.least_mm;
    for (const Candidate& candidate : best.found()) answer.best.push_back(candidate.ways);
    return answer;
}

}  // namespace boardring
