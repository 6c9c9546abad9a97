#include "stock/listed_patterns.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace boardring {

ListedPatterns::ListedPatterns(SequenceTable table, std::vector<BarKind> bars) : table_(std::move(table)), bars_(std::move(bars)) {
    by_length_.resize(table_.size());
    std::iota(by_length_.begin(), by_length_.end(), 0U);
    std::stable_sort(by_length_.begin(), by_length_.end(), [this](std::uint32_t one, std::uint32_t other) {
        return table_.used_mm(one) < table_.used_mm(other);
    });
    bars_by_length_.resize(bars_.size());
    std::iota(bars_by_length_.begin(), bars_by_length_.end(), std::size_t{0});
    std::stable_sort(bars_by_length_.begin(), bars_by_length_.end(),
                     [this](std::size_t one, std::size_t other) { return bars_[one].usable_mm < bars_[other].usable_mm; });
}

std::vector<std::optional<PricedPattern>> ListedPatterns::best(const std::vector<std::int64_t>& value,
                                                               const std::vector<std::int64_t>& more_than, const Counts& most,
                                                               StepBudget& budget) {
    std::vector<std::optional<PricedPattern>> found(bars_.size());
    const std::size_t n = value.size();
    if (!budget.take(by_length_.size() * n)) return found;
    std::size_t at = 0;
    std::size_t best_set = 0;
    std::int64_t best_value = 0;
    // Bars from short to long: what fits the short ones fits the long ones too.
    for (const std::size_t bar : bars_by_length_) {
        for (; at < by_length_.size() && table_.used_mm(by_length_[at]) <= bars_[bar].usable_mm + kFitMm; ++at) {
            const std::uint16_t* counts = table_.counts(by_length_[at]);
            std::int64_t worth = 0;
            bool allowed = true;
            for (std::size_t k = 0; k < n; ++k) {
                if (counts[k] > most[k]) {
                    allowed = false;
                    break;
                }
                worth += value[k] * counts[k];
            }
            if (!allowed || worth <= best_value) continue;
            best_value = worth;
            best_set = by_length_[at];
        }
        if (best_value <= more_than[bar]) continue;
        const std::uint16_t* counts = table_.counts(best_set);
        PricedPattern pattern;
        pattern.value = best_value;
        for (std::size_t k = 0; k < n; ++k) pattern.counts.push_back(counts[k]);
        found[bar] = std::move(pattern);
    }
    return found;
}

bool ListedPatterns::fits(std::size_t bar, const Counts& counts) {
    const auto set = table_.find(counts);
    return set.has_value() && table_.used_mm(*set) <= bars_[bar].usable_mm + kFitMm;
}

}  // namespace boardring
