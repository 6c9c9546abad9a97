#pragma once
#include <cstddef>
#include <optional>
#include <string_view>

namespace boardring {

/// True for the second to fourth byte of a UTF-8 character.
constexpr bool is_utf8_continuation(char byte) {
    return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U;
}

/// 3 if the text starts with the UTF-8 byte order mark, else 0.
std::size_t byte_order_mark_length(std::string_view text);

/// Offset of the first byte that is not part of well-formed UTF-8, or nothing.
std::optional<std::size_t> first_bad_utf8(std::string_view text);

/// True if the text holds a character that a title or a name may not hold: control characters (C0 with tab and line ends, DEL,
/// C1), line and paragraph separators, and marks that turn the writing direction (they make a line read other than it is).
bool has_control_character(std::string_view text);

/// Number of characters (code points) of well-formed UTF-8.
std::size_t count_characters(std::string_view text);

}  // namespace boardring
