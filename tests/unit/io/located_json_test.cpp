#include "io/located_json.hpp"

#include <string>
#include <vector>

#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using Type = JsonValue::Type;

namespace {

JsonValue tree_of(const std::string& text) {
    LocatedJson read = read_located_json(text);
    INFO(text);
    REQUIRE(read.root);
    return *std::move(read.root);
}

Finding only_finding(const std::string& text) {
    const LocatedJson read = read_located_json(text);
    INFO(text);
    REQUIRE(read.findings.size() == 1);
    return read.findings.front();
}

// Byte offset of a place, worked out from the text by itself: lines by '\n', columns by characters.
std::size_t offset_of(const std::string& text, Place place) {
    std::size_t offset = text.starts_with("\xEF\xBB\xBF") ? 3 : 0;
    for (int line = 1; line < place.line; ++line) offset = text.find('\n', offset) + 1;
    for (int column = 1; column < place.column; ++column) {
        ++offset;
        while ((static_cast<unsigned char>(text[offset]) & 0xC0U) == 0x80U) ++offset;
    }
    return offset;
}

// Writes random JSON and remembers at which byte each value starts, in the order in which they start.
class Writer {
public:
    Writer(boardring_test::Random& random, std::string& text) : random_(random), text_(text) {}

    void value(int depth) {
        blank();
        starts.push_back(text_.size());
        const std::size_t kind = random_.index(depth > 4 ? 4 : 6);
        constexpr const char* kLeaves[] = {"true", "-12.5e-3", R"("a \" , : { é ∑ 😀")", "null"};
        if (kind < 4) {
            text_ += kLeaves[kind];
        } else {
            group(depth, kind == 4);
        }
    }
    void blank() {
        constexpr const char* kBlanks[] = {"", " ", "\n", "\r\n", "\t", "// é \" {\n", "/* , \n ∑ : */", " /**/ "};
        for (std::size_t i = random_.index(3); i > 0; --i) text_ += kBlanks[random_.index(8)];
    }
    std::vector<std::size_t> starts;

private:
    void group(int depth, bool object) {
        text_ += object ? "{" : "[";
        const std::size_t count = random_.index(5);
        for (std::size_t i = 0; i < count; ++i) {
            if (i > 0) text_ += ",";
            blank();
            if (object) {
                text_ += "\"ké" + std::to_string(i) + "\"";
                blank();
                text_ += ":";
            }
            value(depth + 1);
            blank();
        }
        blank();
        text_ += object ? "}" : "]";
    }

    boardring_test::Random& random_;
    std::string& text_;
};

void collect_starts(const std::string& text, const JsonValue& value, std::vector<std::size_t>& starts) {
    starts.push_back(offset_of(text, value.place));
    for (const JsonValue& child : value.children) collect_starts(text, child, starts);
}

}  // namespace

TEST_CASE("Values keep their kind, their text and their order") {
    const JsonValue root = tree_of(R"({"z": 1, "a": [true, null, "x\u00e9\n"], "m": {"n": -2.50}})");
    REQUIRE(root.children.size() == 3);
    CHECK(root.children[0].name == "z");
    CHECK(root.children[0].number == 1.0);
    CHECK(root.children[1].children[0].flag);
    CHECK(root.children[1].children[1].type == Type::null);
    CHECK(root.children[1].children[2].text == "x\u00e9\n");
    CHECK(root.member("m")->member("n")->text == "-2.50");
    CHECK(root.member("m")->member("n")->number == -2.5);
    CHECK(root.member("q") == nullptr);
}

TEST_CASE("Lines and columns count characters, behind a byte order mark, comments and Windows line ends") {
    const JsonValue root = tree_of("\xEF\xBB\xBF{ \"\u00e9\u00e9\": 1,\r\n /* \u2211 */ \"b\": // note\r\n  [ 2 ] }");
    CHECK(root.place == Place{1, 1});
    CHECK(root.children[0].name_place == Place{1, 3});
    CHECK(root.children[0].place == Place{1, 9});
    CHECK(root.children[1].name_place == Place{2, 10});
    CHECK(root.children[1].place == Place{3, 3});
    CHECK(root.children[1].children[0].place == Place{3, 5});
}

TEST_CASE("Every value of random texts stands where the tree says") {
    boardring_test::Random random(41);
    for (int round = 0; round < 2000; ++round) {
        std::string text = round % 3 == 0 ? "\xEF\xBB\xBF" : "";
        Writer writer(random, text);
        writer.value(0);
        writer.blank();
        const JsonValue root = tree_of(text);
        std::vector<std::size_t> starts;
        collect_starts(text, root, starts);
        INFO(text);
        REQUIRE(starts == writer.starts);
    }
}

TEST_CASE("Numbers no double holds and counts no integer holds stay honest") {
    CHECK(only_finding(R"({"a": 1e400})").code == "value.out-of-range");
    CHECK(only_finding(R"({"a": -1e400})").code == "value.out-of-range");
    CHECK(tree_of("[1e-400]").children[0].number == 0.0);
    CHECK(tree_of("[123456789012345678901234567890]").children[0].number == 123456789012345678901234567890.0);
    CHECK(tree_of("[-9223372036854775808]").children[0].number == -9223372036854775808.0);
}

TEST_CASE("Two equal keys are told with both places, and the first one counts") {
    const LocatedJson read = read_located_json("{\"a\": 1,\n \"b\": {\"x/y\": 1, \"x/y\": 2},\n \"a\": 3, \"a\": 4}");
    REQUIRE(read.root);
    REQUIRE(read.findings.size() == 3);
    CHECK(read.findings[0].pointer == "/b/x~1y");
    CHECK(read.findings[0].line == 2);
    CHECK(read.findings[0].column == 18);
    CHECK(read.findings[1].pointer == "/a");
    CHECK_THAT(read.findings[1].message, ContainsSubstring("line 1 column 2") && ContainsSubstring("line 3 column 2"));
    CHECK(read.findings[2].column == 10);
    CHECK(read.root->member("a")->number == 1.0);
    for (const Finding& finding : read.findings) CHECK(finding.code == "key.duplicate");
}

TEST_CASE("The same key in different groups is no duplicate") {
    CHECK(read_located_json(R"({"a": {"a": 1}, "b": [{"a": 1}, {"a": 2}]})").findings.empty());
}

TEST_CASE("32 levels are read and 33 are not") {
    CHECK(read_located_json(std::string(32, '[') + std::string(32, ']')).root);
    const Finding finding = only_finding(std::string(33, '[') + std::string(33, ']'));
    CHECK(finding.code == "file.too-deep");
    CHECK(finding.column == 33);
    CHECK(only_finding(std::string(1'000'000, '[')).code == "file.too-deep");
}

TEST_CASE("4 MB and 200,000 values are read and more are not") {
    const std::string body(kMostBytes - 4, 'x');
    CHECK(read_located_json("[\"" + body + "\"]").root);
    CHECK(only_finding("[\"" + body + "x\"]").code == "file.too-large");
    std::string values = "[1";
    for (std::size_t i = 2; i < kMostValues; ++i) values += ",1";
    CHECK(read_located_json(values + "]").root);
    CHECK(only_finding(values + ",1]").code == "file.too-large");
}

TEST_CASE("Bytes that are no UTF-8 are told with their place") {
    for (const std::string bad : {"\xFF", "\xC0\xAF", "\xE0\x80\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xE2\x82"}) {
        const Finding finding = only_finding("{\n \"\u00e9" + bad + "\": 1}");
        CHECK(finding.code == "file.encoding");
        CHECK(finding.line == 2);
        CHECK(finding.column == 4);
    }
    CHECK(only_finding(std::string("{}\0", 3)).code == "file.encoding");
    CHECK_FALSE(read_located_json("{}\xC3").root);
}

TEST_CASE("Pointers name every value, with ~ and / escaped") {
    const auto places = places_of(tree_of(R"({"a/b": [1, {"~": 2}]})"));
    CHECK(places.size() == 5);
    CHECK(places.count("") == 1);
    CHECK(places.at("/a~1b").column == 9);
    CHECK(places.at("/a~1b/0").column == 10);
    CHECK(places.at("/a~1b/1/~0").column == 19);
}
