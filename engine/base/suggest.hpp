#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace boardring {

/// Fewest letters put in, left out, changed or swapped with their neighbour (each letter touched once); case folded.
/// Work grows with the product of both lengths.
std::size_t edits_between(std::string_view a, std::string_view b);

/// The known word nearest to `word` (edit distance with swaps, case folded), or "" when none is near enough to be meant:
/// at most one edit for words up to 4 letters, two up to 8, three beyond, and never a word with no letter in common place
/// (`x` is not `m`). Ties: the first in `known`. Words longer than 64 bytes are near nothing.
std::string nearest_word(std::string_view word, const std::vector<std::string_view>& known);

}  // namespace boardring
