#pragma once
#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

#include "arrange/arrange.hpp"
#include "arrange/cut_table.hpp"
#include "outline/outline.hpp"

namespace boardring {

/// An order of board sizes and its score.
struct Order {
    std::vector<std::size_t> sizes;  ///< per board an index into the table's sizes
    PlaceScore score;
};

struct PlaceSearchResult {
    std::optional<Order> best;  ///< empty if no order that can be built was met
    std::optional<Order> next;  ///< the best met that is worse
    bool proven = false;        ///< nothing better exists
    std::size_t steps = 0;
};

/// Branch and bound over the places in order, then, if it was cut short, exchanges of two boards.
///
/// \param counts    boards of each size, in all at least as many as there are places
/// \param can_build asked of every order before it counts as found
/// Law       of equally good orders the first in the order of sizes is found, if the search was not cut short and can_build refused none
/// Bound     cuts beyond the saw so far plus the least every later corner needs; settings so far (more cuts never need fewer); the
///           steepest so far or the least steep any later corner can be. A beginning that leaves the same boards for the same later
///           corners with the same settings as an earlier one is not followed twice.
PlaceSearchResult search_places(const CutTable& table, const Outline& outline, const std::vector<std::size_t>& counts, std::size_t steps,
                           const std::function<bool(const std::vector<std::size_t>&)>& can_build);

}  // namespace boardring
