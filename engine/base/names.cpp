#include "base/names.hpp"

namespace boardring {

std::string corner_letter(std::size_t index) {
    std::string letters;
    for (std::size_t rest = index + 1; rest > 0; rest = (rest - 1) / 26) {
        letters.insert(letters.begin(), static_cast<char>('A' + static_cast<char>((rest - 1) % 26)));
    }
    return letters;
}

std::optional<std::size_t> corner_index(std::string_view letters) {
    if (letters.empty() || letters.size() > 3) return std::nullopt;
    std::size_t value = 0;
    for (const char c : letters) {
        std::size_t digit = 0;
        if (c >= 'A' && c <= 'Z') {
            digit = static_cast<std::size_t>(c - 'A');
        } else if (c >= 'a' && c <= 'z') {
            digit = static_cast<std::size_t>(c - 'a');
        } else {
            return std::nullopt;
        }
        value = value * 26 + digit + 1;
    }
    return value - 1;
}

std::string board_number(std::size_t index) { return std::to_string(index + 1); }

}  // namespace boardring
