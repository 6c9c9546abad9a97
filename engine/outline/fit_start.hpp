#pragma once
#include <vector>

#include "outline/network.hpp"

namespace boardring {

/// Places to start a fit from, likeliest first: the ring walked along its sides and angles from the corner with the most
/// readings, points hung on two distances where the walk has a gap (the branch that runs counter-clockwise), then other corners,
/// other branches, a walk round a ring of the usual angles, then all other corners. A is at the origin, B along +x (or turned by the readings against
/// level). Never empty, at most `most`.
std::vector<std::vector<Vec2>> fit_starts(const Network& network, std::size_t most);

}  // namespace boardring
