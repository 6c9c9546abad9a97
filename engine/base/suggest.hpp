#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace boardring {

/// The known word nearest to `word` (edit distance with swaps, case folded), or "" when none is near enough to be meant:
/// at most one edit for words up to 4 letters, two up to 8, three beyond. Ties: the first in `known`.
std::string nearest_word(std::string_view word, const std::vector<std::string_view>& known);

}  // namespace boardring
