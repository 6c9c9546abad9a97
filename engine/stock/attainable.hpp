#pragma once
#include <cstdint>
#include <vector>

#include "stock/pattern_source.hpp"

namespace boardring {

/// Which totals a choice of bars can come to. A bound between two of them is as good as the upper one.
class AttainableSums {
public:
    /// Totals up to `limit` of bars taken at most `at_most` times each. When `limit` counts more than kMostCells steps of the prices'
    /// common divisor, every multiple of that divisor passes for attainable: still never too high.
    AttainableSums(const std::vector<BarKind>& bars, std::int64_t limit);

    /// Least attainable total that is not below `least`; beyond the limit the least multiple of the common divisor.
    [[nodiscard]] std::int64_t at_least(std::int64_t least) const;

    static constexpr std::int64_t kMostCells = 200'000;

private:
    std::int64_t step_ = 1;
    std::vector<bool> reached_;  ///< by multiples of step_; empty: all of them
};

}  // namespace boardring
