#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "stock/dive.hpp"
#include "stock/master.hpp"

namespace boardring {

enum class PackOutcome { packed, impossible, gave_up };

struct Packed {
    PackOutcome outcome = PackOutcome::gave_up;
    Filling filling;  ///< when packed
};

/// Can exactly this mix of bars hold the demand? Searches bar by bar, the longest piece left first.
///
/// A safe bound tells how much worth a plan on this mix may waste in all: sum_k mix_k (price_k + t_k) - sum_i d_i w_i. Every bar wastes
/// price_k + t_k - its worth >= 0, so only patterns within what is left need be tried; whole numbers throughout, so "impossible" is
/// proved. Needs a source whose `fits` is exact for that, else it gives up instead.
/// \param steps  patterns it may try
Packed pack(Master& master, const std::vector<std::int64_t>& mix, const SafeBound& bound, std::uint64_t steps, StepBudget& budget);

}  // namespace boardring
