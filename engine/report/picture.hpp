#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "base/vec2.hpp"

namespace boardring {

/// More boards than this cannot be told apart in a picture made of letters.
inline constexpr std::size_t kMostPictureBoards = 14;

/// A plan view made of letters: corners as A, B, C ..., sides as _ / \ | with their board numbers beside or in them.
/// A character cell is taken as twice as high as wide. Lines carry no trailing blanks.
/// \param corners_mm  as seen, y up; n corners of a closed ring, n + 1 of an open chain
/// \param clockwise  the letters run clockwise as seen: numbers stand on the other hand
/// \param most_rows, most_columns  room for the picture; the smallest size at which nothing collides is taken
/// \return no lines when no size up to the limits shows every corner and every number
std::vector<std::string> picture_lines(const std::vector<Vec2>& corners_mm, bool closed, bool clockwise, std::size_t most_rows,
                                       std::size_t most_columns);

}  // namespace boardring
