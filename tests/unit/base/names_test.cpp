#include "base/names.hpp"

#include <cstddef>
#include <string>

#include "support/catch.hpp"

using namespace boardring;

TEST_CASE("corners are letters, past Z doubled like columns of a table") {
    CHECK(corner_letter(0) == "A");
    CHECK(corner_letter(25) == "Z");
    CHECK(corner_letter(26) == "AA");
    CHECK(corner_letter(27) == "AB");
    CHECK(corner_letter(51) == "AZ");
    CHECK(corner_letter(52) == "BA");
    CHECK(corner_letter(701) == "ZZ");
    CHECK(corner_letter(702) == "AAA");
    CHECK(corner_letter(18277) == "ZZZ");
}

TEST_CASE("corner letters read back in upper and lower case") {
    for (std::size_t k = 0; k <= 18277; ++k) {
        const std::string letter = corner_letter(k);
        std::string lower;
        for (const char c : letter) lower.push_back(static_cast<char>(c - 'A' + 'a'));
        if (corner_index(letter) != k || corner_index(lower) != k) FAIL_CHECK(letter);
    }
    CHECK(corner_index("aB") == 27U);
}

TEST_CASE("what is not one to three letters is no corner") {
    for (const std::string text : {"", "A1", "1", "-", "A ", " A", "ABCD", "É", "@", "[", "`", "{"}) {
        CAPTURE(text);
        CHECK_FALSE(corner_index(text).has_value());
    }
}

TEST_CASE("boards are numbers from 1") {
    CHECK(board_number(0) == "1");
    CHECK(board_number(11) == "12");
}
