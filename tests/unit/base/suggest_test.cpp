#include "base/suggest.hpp"

#include <string>
#include <string_view>
#include <vector>

#include "support/catch.hpp"

using namespace boardring;

namespace {
const std::vector<std::string_view> kKeys{"format", "title", "units",  "outline", "stock",    "boards",
                                          "joints", "ends",  "pieces", "tools",   "accuracy", "wanted"};
}

TEST_CASE("a slip of the finger finds the word that was meant") {
    CHECK(nearest_word("outlne", kKeys) == "outline");    // left out
    CHECK(nearest_word("outlinee", kKeys) == "outline");  // put in
    CHECK(nearest_word("outlime", kKeys) == "outline");   // changed
    CHECK(nearest_word("oultine", kKeys) == "outline");   // swapped
    CHECK(nearest_word("uotlnie", kKeys) == "outline");   // swapped twice
    CHECK(nearest_word("Boards", kKeys) == "boards");
    CHECK(nearest_word("board", kKeys) == "boards");
    CHECK(nearest_word("tool", kKeys) == "tools");
    CHECK(nearest_word("edns", kKeys) == "ends");
    CHECK(nearest_word("acuracyes", kKeys) == "accuracy");  // three edits, nine letters
}

TEST_CASE("a word that is not near is not guessed") {
    CHECK(nearest_word("glue", kKeys).empty());
    CHECK(nearest_word("", kKeys).empty());
    CHECK(nearest_word("end", {"ends"}) == "ends");
    CHECK(nearest_word("ed", {"ends"}).empty());   // two edits, two letters
    CHECK(nearest_word("x", {"m", "y"}).empty());  // one edit, but nothing kept
    CHECK(nearest_word("m", {"mm"}) == "mm");
    CHECK(nearest_word("outlXYZ", kKeys).empty());  // three edits, seven letters
    CHECK(nearest_word("anything", {}).empty());
    CHECK(nearest_word(std::string(10000, 'a'), kKeys).empty());
}

TEST_CASE("the limits are one edit to four letters, two to eight, three beyond") {
    CHECK(nearest_word("abcX", {"abcd"}) == "abcd");
    CHECK(nearest_word("abXY", {"abcd"}).empty());
    CHECK(nearest_word("abcXY", {"abcde"}) == "abcde");
    CHECK(nearest_word("abXYZ", {"abcde"}).empty());
    CHECK(nearest_word("abcdefXY", {"abcdefgh"}) == "abcdefgh");
    CHECK(nearest_word("abcdeXYZ", {"abcdefgh"}).empty());
    CHECK(nearest_word("abcdefXYZ", {"abcdefghi"}) == "abcdefghi");
    CHECK(nearest_word("abcdeWXYZ", {"abcdefghi"}).empty());
}

TEST_CASE("the nearest wins, and of equals the first") {
    CHECK(nearest_word("mitres", {"mistress", "mitre", "mitres"}) == "mitres");
    CHECK(nearest_word("bard", {"board", "hard"}) == "board");
    CHECK(nearest_word("bard", {"hard", "board"}) == "hard");
}
