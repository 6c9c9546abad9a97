#pragma once
#include <cstddef>
#include <cstdint>
#include <vector>

#include "stock/pattern_source.hpp"
#include "stock/sequence.hpp"

namespace boardring {

/// Every pattern there is, written down with its least length: exact for all turnings, for sections where few enough exist.
class ListedPatterns final : public PatternSource {
public:
    ListedPatterns(SequenceTable table, std::vector<BarKind> bars);

    std::vector<std::optional<PricedPattern>> best(const std::vector<std::int64_t>& value, const std::vector<std::int64_t>& more_than,
                                                   const Counts& most, StepBudget& budget) override;
    bool fits(std::size_t bar, const Counts& counts) override;
    [[nodiscard]] bool fits_is_exact() const override { return true; }

private:
    SequenceTable table_;
    std::vector<BarKind> bars_;
    std::vector<std::uint32_t> by_length_;  ///< sets, shortest first
    std::vector<std::size_t> bars_by_length_;
};

}  // namespace boardring
