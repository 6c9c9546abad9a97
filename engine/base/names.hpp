#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace boardring {

/// Letter of corner `index` (from 0): A, B ... Z, AA, AB ... ZZ, AAA ... ZZZ is index 18,277.
std::string corner_letter(std::size_t index);

/// Index of a corner letter, upper or lower case; nothing when the text is not letters only or is longer than three.
std::optional<std::size_t> corner_index(std::string_view letters);

/// What people call board `index` (from 0): 1, 2, 3 ...
std::string board_number(std::size_t index);

}  // namespace boardring
