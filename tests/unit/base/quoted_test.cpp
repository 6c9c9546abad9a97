#include "base/quoted.hpp"

#include <cstddef>
#include <string>

#include "base/utf8.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;

TEST_CASE("plain text stands in plain quotes, text with marks in curly ones") {
    CHECK(in_quotes("900") == "\"900\"");
    CHECK(in_quotes("5½ in") == "\"5½ in\"");
    CHECK(in_quotes("5' 3\"") == "“5' 3\"”");
    CHECK(in_quotes("") == "\"\"");
}

TEST_CASE("at most forty characters are shown, counted as characters") {
    CHECK(in_quotes(std::string(40, 'a')) == '"' + std::string(40, 'a') + '"');
    CHECK(in_quotes(std::string(41, 'a')) == '"' + std::string(40, 'a') + "...\"");
    std::string halves;
    for (int k = 0; k < 40; ++k) halves += "½";
    CHECK(in_quotes(halves) == '"' + halves + '"');
}

TEST_CASE("what steers a terminal or turns the line round shows as a question mark") {
    for (const std::string bad : {"\x1b",   "\n",     "\r",     "\t",     "\x7f",       "\u0085", "\u00AD", "\u200B",
                                  "\u200D", "\u200E", "\u200F", "\u202A", "\u202E",     "\u2066", "\u2069", "\u2028",
                                  "\u061C", "\uFEFF", "\u0301", "\uE000", "\U000E0041", "\u05D0", "\u0627"}) {
        CAPTURE(bad.size());
        CHECK(in_quotes("a" + bad + "b") == "\"a?b\"");
    }
    CHECK(in_quotes(std::string("a\0b", 3)) == "\"a?b\"");
}

TEST_CASE("bytes that are not UTF-8 show as one question mark each") {
    CHECK(in_quotes("a\x80z") == "\"a?z\"");
    CHECK(in_quotes("\xC0\xAF") == "\"??\"");            // overlong
    CHECK(in_quotes("\xE0\x80\xAF") == "\"???\"");       // overlong
    CHECK(in_quotes("\xED\xA0\x80") == "\"???\"");       // surrogate
    CHECK(in_quotes("\xF4\x90\x80\x80") == "\"????\"");  // past the last code
    CHECK(in_quotes("\xE2\x82") == "\"??\"");            // cut off
    CHECK(in_quotes("\xFF") == "\"?\"");
}

TEST_CASE("every code point written reads back, and nothing else is valid") {
    for (char32_t code = 0; code <= 0x10FFFF; ++code) {
        if (code == 0xD800) code = 0xE000;
        std::string text;
        append_utf8(text, code);
        const Decoded read = decode_utf8(text, 0);
        if (!read.valid || read.code != code || read.bytes != text.size()) FAIL_CHECK(static_cast<unsigned>(code));
    }
    boardring_test::Random random(5);
    for (int k = 0; k < 100000; ++k) {
        std::string text;
        for (std::size_t n = 1 + random.index(4); n > 0; --n)
            text.push_back(static_cast<char>(static_cast<unsigned char>(random.bits() & 0xFFU)));
        const Decoded read = decode_utf8(text, 0);
        if (!read.valid) {
            if (read.bytes != 1) FAIL_CHECK(k);
            continue;
        }
        std::string again;
        append_utf8(again, read.code);
        if (again != text.substr(0, read.bytes)) FAIL_CHECK(k);
    }
}
