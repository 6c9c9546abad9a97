#include "stock/master.hpp"

#include <algorithm>
#include <cmath>

namespace boardring {
namespace {

/// A bar nobody may take: no pattern is worth that much.
constexpr std::int64_t kNoBar = INT64_MAX / 4;

}  // namespace

Master::Master(PatternSource& source, std::vector<BarKind> bars, Counts demand, std::vector<double> lengths_mm, std::int64_t scale,
               std::int64_t price_of_missing)
    : source_(source),
      bars_(std::move(bars)),
      demand_(std::move(demand)),
      lengths_mm_(std::move(lengths_mm)),
      scale_(scale),
      lp_(demand_.size() + bars_.size(), static_cast<double>(price_of_missing)) {
    for (std::size_t i = 0; i < demand_.size(); ++i) lp_.add_column(static_cast<double>(price_of_missing), {{i, 1.0}});
    // Bars bought and left whole let a limit from below be met.
    for (std::size_t k = 0; k < bars_.size(); ++k) lp_.add_column(static_cast<double>(bars_[k].price), {{demand_.size() + k, 1.0}});
}

std::int64_t Master::price_of(std::int64_t scaled) const {
    if (scaled <= 0) return 0;
    return (scaled - 1) / scale_ + 1;
}

void Master::add(std::size_t bar, const Counts& counts) {
    const auto [at, fresh] = index_.try_emplace({bar, counts}, columns_.size());
    if (!fresh) return;
    columns_.push_back({bar, counts, source_.fits(bar, counts)});
    std::vector<LinearProgram::Entry> entries;
    for (std::size_t i = 0; i < counts.size(); ++i) {
        if (counts[i] > 0) entries.push_back({i, static_cast<double>(counts[i])});
    }
    entries.push_back({demand_.size() + bar, 1.0});
    lp_.add_column(static_cast<double>(bars_[bar].price), entries);
}

bool Master::add_found(const std::vector<std::optional<PricedPattern>>& found) {
    const std::size_t before = columns_.size();
    for (std::size_t k = 0; k < found.size(); ++k) {
        if (found[k]) add(k, found[k]->counts);
    }
    return columns_.size() > before;
}

Master::Relaxed Master::relax(const Counts& demand, const BarLimits& limits, const AttainableSums& sums, std::int64_t enough,
                              bool to_the_end, StepBudget& budget) {
    const std::size_t n = demand_.size();
    for (std::size_t i = 0; i < n; ++i) lp_.set_row(i, demand[i], LinearProgram::kUnbounded);
    for (std::size_t k = 0; k < bars_.size(); ++k) {
        lp_.set_row(n + k, static_cast<double>(limits.low[k]), static_cast<double>(limits.high[k]));
    }
    Relaxed relaxed;
    const double scale = static_cast<double>(scale_);
    while (!budget.spent && lp_.solve()) {
        if (!budget.take(lp_.steps())) break;
        relaxed.amounts.clear();
        for (std::size_t c = 0; c < columns_.size(); ++c) relaxed.amounts.push_back(lp_.amount(lp_column(c)));
        relaxed.missing = 0.0;
        for (std::size_t i = 0; i < n; ++i) relaxed.missing += lp_.amount(i);
        const double of_fractions = lp_.value();
        SafeBound bound;
        for (std::size_t i = 0; i < n; ++i) {
            bound.worth.push_back(std::max<std::int64_t>(0, static_cast<std::int64_t>(std::floor(lp_.dual(i) * scale))));
        }
        std::vector<std::int64_t> more_than(bars_.size());
        for (std::size_t k = 0; k < bars_.size(); ++k) {
            const auto extra = static_cast<std::int64_t>(std::ceil(-lp_.dual(n + k) * scale)) + 1;
            more_than[k] = limits.high[k] == 0 ? kNoBar : std::max<std::int64_t>(0, bars_[k].price * scale_ + extra);
        }
        const auto found = source_.best(bound.worth, more_than, demand, budget);
        if (budget.spent) break;
        std::int64_t scaled = 0;
        for (std::size_t i = 0; i < n; ++i) scaled += bound.worth[i] * demand[i];
        for (std::size_t k = 0; k < bars_.size(); ++k) {
            const std::int64_t most = found[k] ? found[k]->value : more_than[k];
            bound.extra.push_back(limits.high[k] == 0 ? 0 : most - bars_[k].price * scale_);
            scaled -= bound.extra[k] * (bound.extra[k] >= 0 ? limits.high[k] : limits.low[k]);
        }
        bound.scaled = scaled;
        if (scaled > relaxed.bound.scaled) relaxed.bound = std::move(bound);
        const std::int64_t lifted = sums.at_least(price_of(relaxed.bound.scaled));
        if (!add_found(found)) relaxed.converged = true;
        // Nothing the remaining columns could lower would change the lifted bound.
        const bool settled = lifted >= sums.at_least(static_cast<std::int64_t>(std::ceil(of_fractions - 1e-6)));
        if (relaxed.converged || lifted >= enough || (settled && !to_the_end)) break;
    }
    return relaxed;
}

}  // namespace boardring
