#include "closure/least_miss.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

#include "base/ensure.hpp"

namespace boardring {
namespace {

constexpr std::size_t kAtATime = 20;    // beyond kMostExactChoices: choices looked at together
constexpr std::size_t kMostRounds = 40;
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
    std::vector<Miss> sums(std::size_t{1} << indices.size());
    std::vector<Part> parts;
    for (std::uint32_t bits = 0; bits < sums.size(); ++bits) {
        if (bits != 0) {
            std::size_t lowest = 0;
            while (((bits >> lowest) & 1U) == 0) ++lowest;
            sums[bits] = sum(sums[bits & (bits - 1)], problem.change[indices[lowest]]);
        }
        if (agrees(rules, indices, bits, ways)) parts.push_back({sums[bits], bits});
    }
    return parts;
}

// Every way of the choices `indices`, the others as in `ways`.
void count_ways(const MissProblem& problem, const std::vector<std::size_t>& indices, Ways ways, Best& best) {
    Miss fixed = problem.base;
    for (std::size_t i = 0; i < ways.size(); ++i) {
        if (ways[i] == 1 && std::find(indices.begin(), indices.end(), i) == indices.end()) fixed = sum(fixed, problem.change[i]);
    }
    const std::size_t half = indices.size() / 2;
    const std::vector<std::size_t> low(indices.begin(), indices.begin() + static_cast<std::ptrdiff_t>(half));
    const std::vector<std::size_t> high(indices.begin() + static_cast<std::ptrdiff_t>(half), indices.end());
    const std::vector<Part> outer = parts_of(problem, low, ways);
    std::vector<Part> inner = parts_of(problem, high, ways);

    // The number with the widest range parts the ways best.
    std::array<double, 3> range{};
    for (const std::size_t i : indices) {
        for (std::size_t r = 0; r < 3; ++r) range[r] += std::abs(problem.change[i][r]);
    }
    const auto axis = static_cast<std::size_t>(std::max_element(range.begin(), range.end()) - range.begin());
    std::stable_sort(inner.begin(), inner.end(), [axis](const Part& a, const Part& b) { return a.adds[axis] < b.adds[axis]; });

    const bool all = indices.size() <= kAllKept;
    for (const Part& a : outer) {
        const Miss so_far = sum(fixed, a.adds);
        double limit_mm = best.limit_mm(all);
        auto b = std::lower_bound(inner.begin(), inner.end(), -limit_mm - so_far[axis],
                                  [axis](const Part& part, double least) { return part.adds[axis] < least; });
        for (; b != inner.end(); ++b) {
            const Miss miss = sum(so_far, b->adds);
            if (miss[axis] > limit_mm) break;
            if (widest_of(miss) > limit_mm) continue;
            for (std::size_t i = 0; i < low.size(); ++i) ways[low[i]] = static_cast<std::uint8_t>((a.bits >> i) & 1U);
            for (std::size_t i = 0; i < high.size(); ++i) ways[high[i]] = static_cast<std::uint8_t>((b->bits >> i) & 1U);
            best.offer(ways, miss);
            limit_mm = best.limit_mm(all);
        }
    }
}

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

// By each of the three numbers alone, whatever is chosen.
double bound_mm(const MissProblem& problem) {
    double bound = 0.0;
    for (std::size_t r = 0; r < 3; ++r) {
        double low = problem.base[r], high = problem.base[r];
        for (const Miss& change : problem.change) (change[r] < 0.0 ? low : high) += change[r];
        bound = std::max({bound, low, -high});
    }
    return bound;
}

}  // namespace

double widest_of(const Miss& miss) { return std::max({std::abs(miss[0]), std::abs(miss[1]), std::abs(miss[2])}); }

MissAnswer least_miss(const MissProblem& problem) {
    const std::size_t n = problem.change.size();
    ENSURE(problem.squares.size() == n && problem.keep > 0);
    Best best(problem);
    best.offer(Ways(n, 0), problem.base);
    ENSURE(!best.found().empty());
    descend(problem, best);

    MissAnswer answer;
    answer.exact = n <= kMostExactChoices;
    answer.bound_mm = bound_mm(problem);
    if (answer.exact) {
        std::vector<std::size_t> all(n);
        for (std::size_t i = 0; i < n; ++i) all[i] = i;
        count_ways(problem, all, Ways(n, 0), best);
    } else {
        const std::size_t round = (n + kAtATime / 2 - 1) / (kAtATime / 2);
        std::size_t idle = 0;
        for (std::size_t at = 0, tried = 0; idle < round && tried < kMostRounds; at = (at + kAtATime / 2) % n, ++tried) {
            const Candidate start = best.found().front();
            if (static_cast<double>(start.miss) * kSameMiss - answer.bound_mm <= kSameMiss) break;
            std::vector<std::size_t> some;
            for (std::size_t i = 0; i < kAtATime; ++i) some.push_back((at + i) % n);
            count_ways(problem, some, start.ways, best);
            idle = best.found().front().before(start) ? 0 : idle + 1;
        }
    }
    answer.least_mm = static_cast<double>(best.found().front().miss) * kSameMiss;
    if (answer.exact) answer.bound_mm = answer.least_mm;
    answer.bound_mm = std::min(answer.bound_mm, answer.least_mm);
    for (const Candidate& candidate : best.found()) answer.best.push_back(candidate.ways);
    return answer;
}

}  // namespace boardring
