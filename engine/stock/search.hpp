#pragma once
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "stock/dive.hpp"
#include "stock/master.hpp"

namespace boardring {

/// Told when the best plan or the bound has moved: whole prices.
using SearchProgress = std::function<void(std::int64_t best, std::int64_t bound)>;

struct SearchResult {
    Filling best;
    std::int64_t bound = 0;      ///< proven: no plan costs less. Equal to best.price when nothing cheaper exists
    std::size_t nodes = 0;       ///< limits on bar counts looked at
};

/// Cheapest bars for the demand: greedy, relaxation, dives, then branching on how many bars of each kind (master.hpp, dive.hpp,
/// pack.hpp). Whatever stops it, `best` holds the whole demand and `bound` is proven.
/// \param start  a plan to begin with; its price is a first upper bound
SearchResult search(Master& master, const BarLimits& limits, const Filling& start, StepBudget& budget, const SearchProgress& progress);

}  // namespace boardring
