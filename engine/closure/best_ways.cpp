#include "closure/best_ways.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace boardring {

std::int64_t whole(double mm) { return std::llround(mm / kSameMiss); }

std::size_t row_of(const JointRule& rule, const Ways& ways) {
    std::size_t row = 0;
    for (std::size_t i = 0; i < rule.choices.size(); ++i) row |= static_cast<std::size_t>(ways[rule.choices[i]]) << i;
    return row;
}

double BestWays::limit_mm(bool all) const {
    if (found_.size() >= problem_.keep) return (static_cast<double>(found_.back().miss) + 1.0) * kSameMiss;
    if (all || found_.empty()) return std::numeric_limits<double>::infinity();
    return (static_cast<double>(found_.front().miss) + 1.0) * kSameMiss + problem_.near_mm;
}

bool BestWays::may_take(const Miss& miss, double squares) const {
    if (found_.size() < problem_.keep) return true;
    const Candidate& last = found_.back();
    const std::int64_t left = whole(widest_of(miss)), least_mismatch = whole(problem_.mismatch_mm);
    // Squares are summed in another order here than when a way is offered: two whole ones are left for that.
    return left < last.miss || (left == last.miss && (least_mismatch < last.mismatch || whole(squares) <= last.squares + 2));
}

void BestWays::offer(const Ways& ways, const Miss& miss) {
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

}  // namespace boardring
