#pragma once
#include <cstddef>
#include <optional>

#include "plan/buying_plan.hpp"

namespace boardring {

/// The board of a purchase whose loss would cost most.
struct BadBoard {
    std::size_t section = 0, bar = 0;   ///< indices into Buying::sections and its buy.bars
    std::size_t number = 0;             ///< of the long board on paper, from 1, through all sections
    std::optional<double> price;        ///< of the cheapest board on offer that takes its pieces; empty: none is left
};

/// Splits and short lengths show in the yard or under the saw. Every board is lost in turn, and its pieces, in the order they have, go on the
/// cheapest offer still to be had that is long enough (by length where prices are unknown). Boards nothing replaces come first, then the
/// dearest; of equals the first. Nothing where nothing is planned.
std::optional<BadBoard> dearest_to_lose(const Buying& buying);

}  // namespace boardring
