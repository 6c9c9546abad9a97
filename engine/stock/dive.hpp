#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "stock/master.hpp"

namespace boardring {

/// Bars that hold the whole demand, each piece once.
struct Filling {
    std::vector<FilledBar> bars;
    std::int64_t price = 0;
};

/// Bar after bar, long pieces first, each time the bar whose filling costs least per length. Nothing when the bars run out.
std::optional<Filling> fill_greedily(Master& master, const BarLimits& limits);

/// Takes whole bars out of the relaxed plan, asks again for what is left, and rounds one fraction up where there are no whole ones. A choice
/// after which the bound shows that `must_beat` cannot be beaten any more is taken back, a limited number of times.
/// \param variant  0 takes the largest fraction; others shake the choice, always the same way for the same number
std::optional<Filling> dive(Master& master, const BarLimits& limits, const AttainableSums& sums, std::int64_t must_beat,
                            std::size_t variant, StepBudget& budget);

/// Every filled bar on the cheapest bar that holds it and is still to be had.
void take_cheaper_bars(Master& master, const BarLimits& limits, Filling& filling);

}  // namespace boardring
