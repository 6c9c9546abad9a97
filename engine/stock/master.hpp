#pragma once
#include <cstddef>
#include <cstdint>
#include <map>
#include <memory>
#include <utility>
#include <vector>

#include "stock/attainable.hpp"
#include "stock/linear_program.hpp"
#include "stock/pattern_source.hpp"

namespace boardring {

/// A bar with what is cut from it.
struct FilledBar {
    std::size_t bar = 0;
    Counts counts;
};

/// How many bars of each kind a plan may hold.
struct BarLimits {
    std::vector<std::int64_t> low;
    std::vector<std::int64_t> high;
};

/// A lower bound with its witness. Worths w_i >= 0 per piece and t_k per bar, in whole numbers of 1/scale of the price unit, such that no
/// pattern on a bar of kind k is worth more than price_k + t_k. Every plan within the limits then costs at least
///     sum d_i w_i - sum_k max(t_k low_k, t_k high_k),
/// which is computed without rounding: that is the only ground on which anything is called proven.
struct SafeBound {
    std::int64_t scaled = INT64_MIN;
    std::vector<std::int64_t> worth;
    std::vector<std::int64_t> extra;
};

/// The covering problem over patterns, relaxed to fractions of bars and filled with patterns as they are asked for.
class Master {
public:
    struct Column {
        std::size_t bar = 0;
        Counts counts;
        bool fits = true;  ///< false: only the generous length says so; serves bounds, never plans
    };
    struct Relaxed {
        SafeBound bound;
        std::vector<double> amounts;  ///< per column known when they were worked out
        double missing = 0.0;         ///< pieces no bar could be found for
        bool converged = false;
    };

    /// \param scale             the power of two that makes worths whole
    /// \param price_of_missing  of a piece for which there is no bar; above all prices of bars
    Master(PatternSource& source, std::vector<BarKind> bars, Counts demand, std::vector<double> lengths_mm, std::int64_t scale,
           std::int64_t price_of_missing);

    void add(std::size_t bar, const Counts& counts);

    /// Column generation. Stops early once the bound, lifted by `sums`, reaches `enough`; unless `to_the_end`, also when no further column
    /// could raise the lifted bound.
    Relaxed relax(const Counts& demand, const BarLimits& limits, const AttainableSums& sums, std::int64_t enough, bool to_the_end,
                  StepBudget& budget);

    [[nodiscard]] const std::vector<Column>& columns() const { return columns_; }
    [[nodiscard]] const std::vector<BarKind>& bars() const { return bars_; }
    [[nodiscard]] const Counts& demand() const { return demand_; }
    [[nodiscard]] const std::vector<double>& lengths_mm() const { return lengths_mm_; }
    [[nodiscard]] std::int64_t scale() const { return scale_; }
    /// `scaled` as a price: rounded up, since prices are whole.
    [[nodiscard]] std::int64_t price_of(std::int64_t scaled) const;
    PatternSource& source() { return source_; }

private:
    bool add_found(const std::vector<std::optional<PricedPattern>>& found);
    [[nodiscard]] std::size_t lp_column(std::size_t column) const { return demand_.size() + bars_.size() + column; }

    PatternSource& source_;
    std::vector<BarKind> bars_;
    Counts demand_;
    std::vector<double> lengths_mm_;
    std::int64_t scale_;
    std::vector<Column> columns_;
    std::map<std::pair<std::size_t, Counts>, std::size_t> index_;
    LinearProgram lp_;
};

}  // namespace boardring
