#include "base/quoted.hpp"

#include <array>
#include <cstddef>

#include "base/utf8.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostShown = 40;

struct Span {
    char32_t first;
    char32_t last;
};

// Controls, soft hyphen, marks of direction, zero width and joining, line and paragraph separators, fillers, combining marks
// (they would sit on our own quote), variation selectors, surrogates and private use, non-characters.
constexpr std::array<Span, 20> kHidden{{{0x0000, 0x001F}, {0x007F, 0x009F}, {0x00AD, 0x00AD}, {0x0300, 0x036F},
                                        {0x0483, 0x0489}, {0x0590, 0x08FF}, {0x115F, 0x1160}, {0x17B4, 0x17B5},
                                        {0x180B, 0x180F}, {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF}, {0x200B, 0x200F},
                                        {0x2028, 0x202E}, {0x2060, 0x206F}, {0x20D0, 0x20FF}, {0x3164, 0x3164},
                                        {0xD800, 0xF8FF}, {0xFB1D, 0xFE0F}, {0xFE20, 0xFEFF}, {0xFFA0, 0x10FFFF}}};

bool may_be_shown(const Decoded& c) {
    if (!c.valid) return false;
    for (const Span& span : kHidden) {
        if (c.code >= span.first && c.code <= span.last) return false;
    }
    return true;
}

}  // namespace

std::string in_quotes(std::string_view text) {
    std::string shown;
    std::size_t count = 0;
    std::size_t at = 0;
    for (; at < text.size() && count < kMostShown; ++count) {
        const Decoded c = decode_utf8(text, at);
        if (may_be_shown(c)) {
            shown.append(text.substr(at, c.bytes));
        } else {
            shown.push_back('?');
        }
        at += c.bytes;
    }
    if (at < text.size()) shown += "...";
    const bool has_marks = shown.find_first_of("'\"") != std::string::npos;
    return has_marks ? "\u201C" + shown + "\u201D" : '"' + shown + '"';
}

bool can_be_shown(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const Decoded c = decode_utf8(text, at);
        if (!may_be_shown(c)) return false;
        at += c.bytes;
    }
    return true;
}

}  // namespace boardring
