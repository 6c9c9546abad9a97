#pragma once
#include <cstddef>
#include <vector>

#include "closure/rounding.hpp"
#include "cutlist/cut_list.hpp"

namespace boardring {

/// The groups of a cut list as the rounding wants them: for each board the first of its group and how it is turned to be the same.
std::vector<AlikeBoard> boards_alike(const CutList& cuts, std::size_t boards);

}  // namespace boardring
