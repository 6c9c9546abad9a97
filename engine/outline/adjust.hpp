#pragma once
#include <optional>
#include <vector>

#include "outline/chain.hpp"

namespace boardring {

/// What was added to each given value so that the ring closes.
struct Spread {
    std::vector<double> side_mm;
    std::vector<double> angle_deg;
    bool angles_by_shares = false;  ///< angles only took the shares of the angle sum; the sides did the rest
};

/// The spread of a ring's misfit that keeps every value within its digits (`side_within_mm`, `angle_within_deg`), or nothing
/// if there is none: then some reading is wrong, not just rounded.
///
/// Tried in this order: (1) the angle sum's misfit shared out in proportion to the squares of what the digits allow (equal shares
/// for equal digits), the rest by the sides alone; (2) all sides and angles. Each minimises the sum of (correction / within)^2
/// subject to the closure conditions and |correction| <= within: plain weighted condition equations, bounded only where that
/// leaves the digits.
///
/// Laws      readings rounded honestly from a ring that closes are never refused [adjust_test]; corrections scale with the ring.
/// Accuracy  the adjusted chain closes to 1e-12 of its perimeter and its angles add up to 1e-9 deg [adjust_test].
/// Edge      `within` 0 is a value that is not touched. Linear in the number of sides per step; a few steps.
/// Source    docs/theory/outline.md section 3.
std::optional<Spread> spread_within_digits(const Chain& given);

/// The given chain with the spread added.
Chain with_spread(const Chain& given, const Spread& spread);

}  // namespace boardring
