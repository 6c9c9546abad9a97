#include "closure/least_miss.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "base/ensure.hpp"
#include "closure/best_ways.hpp"
#include "closure/linear_bound.hpp"
#include "closure/ways_in_halves.hpp"

namespace boardring {
namespace {

constexpr std::size_t kAtATime = 20;    // beyond those counted in full: choices looked at together
constexpr std::size_t kMostRounds = 40;
constexpr std::size_t kNoLimit = std::numeric_limits<std::size_t>::max();
// Where many ways leave the same no limit comes about, and a leaf would look at all of its 2^24.
constexpr std::size_t kLooksOfLeaf = 512;

Miss left_by(const MissProblem& problem, const Ways& ways) {
    Miss miss = problem.base;
    for (std::size_t i = 0; i < ways.size(); ++i) {
        if (ways[i] == 1) miss = sum(miss, problem.change[i]);
    }
    return miss;
}

// One choice changed at a time while that helps: a start that lets most ways be passed over.
void descend(const MissProblem& problem, BestWays& best) {
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
void improve(const MissProblem& problem, BestWays& best) {
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
        std::size_t looks = kNoLimit;
        WaysInHalves(problem, some).count(left_by(problem, others), others, best, looks);
        idle = best.found().front().before(start) ? 0 : idle + 1;
    }
}

// Branches over the choices that change most until so few are left that they can be counted.
class Branching {
public:
    Branching(const MissProblem& problem, BestWays& best) : problem_(problem), best_(best), leaves_left_(problem.leaves), looks_left_(problem.leaves * kLooksOfLeaf) {
        const std::size_t n = problem.change.size();
        std::vector<std::size_t> order(n);
        for (std::size_t i = 0; i < n; ++i) order[i] = i;
        std::stable_sort(order.begin(), order.end(),
                         [&](std::size_t a, std::size_t b) { return widest_of(problem.change[a]) > widest_of(problem.change[b]); });
        branched_.assign(order.begin(), order.end() - static_cast<std::ptrdiff_t>(problem.counted));
        std::vector<std::size_t> counted(order.end() - static_cast<std::ptrdiff_t>(problem.counted), order.end());
        std::sort(counted.begin(), counted.end());
        halves_.emplace(problem, counted);
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
            return halves_->count(miss, std::move(ways), best_, looks_left_);
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
    BestWays& best_;
    std::size_t leaves_left_;
    std::size_t looks_left_;
    std::vector<std::size_t> branched_;
    std::optional<WaysInHalves> halves_;
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
    BestWays best(problem);
    best.offer(Ways(n, 0), problem.base);
    ENSURE(!best.found().empty());
    descend(problem, best);

    MissAnswer answer;
    if (n <= problem.counted) {
        std::vector<std::size_t> all(n);
        for (std::size_t i = 0; i < n; ++i) all[i] = i;
        std::size_t looks = kNoLimit;
        WaysInHalves(problem, all).count(problem.base, Ways(n, 0), best, looks);
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
