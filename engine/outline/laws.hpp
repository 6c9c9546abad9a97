#pragma once
#include <cstddef>

namespace boardring {

// The two laws that tests of readings need. Errors below 1e-9 absolute [laws_test, against printed tables].

/// Chance that a standard normal number lies outside +-w.
double chance_outside(double w);
/// The w outside of which it lies with this chance, in (0, 1): 0.05 gives 1.96.
double limit_outside(double chance);
/// Chance that a chi-square number of `freedoms` degrees of freedom exceeds `value`.
double chance_above(double value, std::size_t freedoms);

}  // namespace boardring
