#pragma once
#include <cstddef>
#include <vector>

#include "outline/outline.hpp"
#include "project/project.hpp"

namespace boardring {

/// Renumberings of the boards that leave outline, joints, margins and free ends as they are: turning the ring round, and turning it
/// over. Place k of the image holds what place `image[k]` held. The first is always the identity.
///
/// \return 1 of n boards without any symmetry, up to 2n of a regular ring; 1 or 2 of an open chain
/// Accuracy  sides alike within 1e-9 of the longest, turns within 1e-7 degrees, margins within 1e-9 of the longest side [symmetry_test]
/// Cost      n tries of n comparisons at most
std::vector<std::vector<std::size_t>> symmetries(const Project& project, const Outline& outline);

}  // namespace boardring
