#include "io/text_bytes.hpp"

#include <algorithm>

#include "base/utf8.hpp"

namespace boardring {
namespace {

struct CodeRange {
    char32_t first;
    char32_t last;
};

constexpr CodeRange kUnprintable[] = {
    {0x0000, 0x001F}, {0x007F, 0x009F},                    // control characters
    {0x2028, 0x2029},                                      // line and paragraph separator
    {0x061C, 0x061C}, {0x200E, 0x200F}, {0x202A, 0x202E},  // writing direction
    {0x2066, 0x2069}, {0xFEFF, 0xFEFF},
};

bool is_unprintable(char32_t code) {
    return std::any_of(std::begin(kUnprintable), std::end(kUnprintable),
                       [code](const CodeRange& range) { return code >= range.first && code <= range.last; });
}

}  // namespace

std::size_t byte_order_mark_length(std::string_view text) {
    return text.starts_with("\xEF\xBB\xBF") ? 3 : 0;
}

std::optional<std::size_t> first_bad_utf8(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        const Decoded character = decode_utf8(text, i);
        if (!character.valid) return i;
        i += character.bytes;
    }
    return std::nullopt;
}

bool has_control_character(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        const Decoded character = decode_utf8(text, i);
        if (is_unprintable(character.code)) return true;
        i += character.bytes;
    }
    return false;
}

std::size_t count_characters(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) { return !is_utf8_continuation(c); }));
}

}  // namespace boardring
