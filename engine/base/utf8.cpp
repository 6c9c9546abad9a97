#include "base/utf8.hpp"

#include "base/ensure.hpp"

namespace boardring {
namespace {

constexpr Decoded kBroken{0xFFFD, 1, false};

// Length of the sequence its first byte announces, and the payload bits of that byte; 0 for a byte that starts none.
struct Lead {
    std::size_t bytes;
    char32_t bits;
    char32_t least;  // smaller codes must be written shorter
};

Lead lead_of(unsigned char byte) {
    if (byte < 0x80) return {1, byte, 0};
    if (byte >= 0xC2 && byte <= 0xDF) return {2, byte & 0x1FU, 0x80};
    if (byte >= 0xE0 && byte <= 0xEF) return {3, byte & 0x0FU, 0x800};
    if (byte >= 0xF0 && byte <= 0xF4) return {4, byte & 0x07U, 0x10000};
    return {0, 0, 0};
}

}  // namespace

Decoded decode_utf8(std::string_view text, std::size_t at) {
    ENSURE(at < text.size());
    const Lead lead = lead_of(static_cast<unsigned char>(text[at]));
    if (lead.bytes == 0 || lead.bytes > text.size() - at) return kBroken;
    char32_t code = lead.bits;
    for (std::size_t k = 1; k < lead.bytes; ++k) {
        const unsigned char next = static_cast<unsigned char>(text[at + k]);
        if ((next & 0xC0U) != 0x80U) return kBroken;
        code = (code << 6U) | (next & 0x3FU);
    }
    const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
    if (code < lead.least || code > 0x10FFFF || surrogate) return kBroken;
    return {code, lead.bytes, true};
}

void append_utf8(std::string& to, char32_t code) {
    const auto byte = [&to](char32_t value) { to.push_back(static_cast<char>(static_cast<unsigned char>(value))); };
    const auto tail = [&byte](char32_t value) { byte(0x80U | (value & 0x3FU)); };
    if (code < 0x80) {
        byte(code);
    } else if (code < 0x800) {
        byte(0xC0U | (code >> 6U));
        tail(code);
    } else if (code < 0x10000) {
        byte(0xE0U | (code >> 12U));
        tail(code >> 6U);
        tail(code);
    } else {
        byte(0xF0U | (code >> 18U));
        tail(code >> 12U);
        tail(code >> 6U);
        tail(code);
    }
}

}  // namespace boardring
