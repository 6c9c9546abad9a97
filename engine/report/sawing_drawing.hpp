#pragma once
#include <string>
#include <vector>

#include "drawing/drawing.hpp"
#include "report/sawing_order.hpp"

namespace boardring {

/// How long boards of one kind are sawn: the board along a round scale with its pieces numbered in the order of sawing, widths drawn larger
/// than they are, rests hatched, and the marks of every piece as a table. A page on its side. Beyond kMostSawnRows pieces the table ends and
/// the text file has the rest.
Drawing draw_sawing(const SawnBoards& boards, const std::vector<const Project*>& projects);

inline constexpr std::size_t kMostSawnRows = 24;

}  // namespace boardring
