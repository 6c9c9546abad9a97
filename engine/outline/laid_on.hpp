#pragma once
#include <vector>

#include "base/vec2.hpp"

namespace boardring {

/// Points laid on targets, turned and moved but neither stretched nor turned over, so that the squared distances of those that count add up to
/// the least.
///
/// \param points, targets  equally many, in the same unit
/// \param counts           which pairs count; at least one of them
/// Edge    one pair that counts: laid upon it, with the turn that suits all pairs; no direction in the points or their targets: not turned
/// Source  the turn is the direction of the sum of products p' q of both sets about their middles (complex numbers); no outside result used
std::vector<Vec2> laid_on(const std::vector<Vec2>& points, const std::vector<Vec2>& targets, const std::vector<bool>& counts);

}  // namespace boardring
