#pragma once
#include <cstddef>
#include <string>
#include <string_view>

namespace boardring {

/// One character of a text and how many bytes it took.
struct Decoded {
    char32_t code = 0;
    std::size_t bytes = 0;
    bool valid = false;  ///< false: the byte is not part of well-formed UTF-8; code is then U+FFFD and bytes is 1
};

/// The character that starts at byte `at` (< text.size()). Overlong forms, surrogates and codes past U+10FFFF are not valid.
Decoded decode_utf8(std::string_view text, std::size_t at);

/// Appends `code` (a valid character) to `to`.
void append_utf8(std::string& to, char32_t code);

}  // namespace boardring
