#pragma once
#include <vector>

#include "closure/least_miss.hpp"

namespace boardring {

/// The least that choices between 0 and 1, whole or not, can leave of the widest of three numbers: no whole choice leaves less.
///
///     minimise  max_r |base_r + sum_i change_ir x_i|   subject to  0 <= x_i <= 1
///
/// Laws      at most the widest of `base`, at least what any one row alone says; k times everything: k times the bound
/// Accuracy  1e-9 of the largest sum of |change| in a row, and never over the true value by more [linear_bound_test]
/// Cost      linear in the choices where nothing need be left, else their third power: 5 ms for 120
/// Source    docs/theory/rounding.md section 3 (dual in three unknowns)
double linear_bound_mm(const Miss& base, const std::vector<Miss>& change);

}  // namespace boardring
