#include "io/json_fault.hpp"

#include <string>

#include "io/located_json.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

struct Fault {
    std::string text;
    int line;
    int column;
    std::string says;  // in the message
    std::string fix;   // in the fix
};

}  // namespace

TEST_CASE("A broken text is told where it breaks and what would mend it") {
    const Fault faults[] = {
        {"", 1, 1, "empty", "\"format\""},
        {"  // nothing\n", 2, 1, "empty", "{"},
        {"{\n \"a\": 1\n \"b\": 2}", 2, 8, "comma is missing here, before \"b\"", "comma"},
        {"[\"AB 900\"\n\"B 2\"]", 1, 10, "comma is missing here, before \"B 2\"", "comma"},
        {R"({"a": 1,})", 1, 8, "comma is followed by }", "Remove the comma"},
        {R"({"a": [1, 2 , ]})", 1, 13, "comma is followed by ]", "Remove the comma"},
        {R"({"a": 1,, "b": 2})", 1, 9, "Two commas", "Remove one"},
        {"[,]", 1, 2, "where a value is needed", "remove the comma"},
        {"{,}", 1, 2, "before the first entry", "Remove it"},
        {R"({"a": [1, {"b": 2})", 1, 7, "[ opened here is never closed", "]"},
        {R"({"a": 1)", 1, 1, "{ opened here is never closed", "}"},
        {R"([1, 2})", 1, 6, "still open and needs ]", "]"},
        {R"({"a": 1])", 1, 8, "still open and needs }", "}"},
        {R"({} x)", 1, 4, "x is left over", "Remove"},
        {R"({"a": 400,5 })", 1, 7, "400,5 has a comma where decimals take a point", "Write 400.5."},
        {R"({"a": -1,25, "b": 2})", 1, 7, "-1,25 has a comma", "Write -1.25."},
        {R"({"a": 1.5,5})", 1, 11, "The key 5 has no quotes", "\"5\""},
        {R"({"a": 4, 5})", 1, 10, "The key 5 has no quotes", "\"5\""},
        {R"({"a" 1})", 1, 5, "colon is missing after \"a\"", "\"a\":"},
        {R"({"a": })", 1, 5, "\"a\" has no value", "after the colon"},
        {R"({"a": , "b": 1})", 1, 5, "\"a\" has no value", "after the colon"},
        {R"({"a":)", 1, 1, "never closed", "}"},
        {R"(["a": 1])", 1, 5, "colon", "{ }"},
        {R"({"a": "x})", 1, 7, "no closing quote", "Close it with a quote"},
        {"{\"a\": \"x\n\"}", 1, 7, "no closing quote", "Close it with a quote"},
        {R"({"a": "5 1/2""})", 1, 14, "right behind a closed text", "in for an inch mark"},
        {R"({"a": "\q"})", 1, 8, "\\q", "backslash"},
        {R"({"a": "\u12"})", 1, 8, "four hex digits", "UTF-8"},
        {R"({"a": "\ud800"})", 1, 8, "four hex digits", "UTF-8"},
        {"{\"a\": \"x\ty\"}", 1, 9, "tab", "space"},
        {"{'a': 1}", 1, 2, "single quote", "double quote"},
        {"{\"a\": 'x'}", 1, 7, "single quote", "double quote"},
        {"{a: 1}", 1, 2, "key a has no quotes", "\"a\""},
        {R"({"a": rail})", 1, 7, "rail has no quotes", "\"rail\""},
        {R"({"a": True})", 1, 7, "small letters", "true"},
        {R"({"a": NaN})", 1, 7, "NaN", "quotes"},
        {R"({"a": 5 1/2 in, "b": 1})", 1, 7, "5 1/2 in is more than a plain number", "\"5 1/2 in\""},
        {R"({"a": 3' 6-3/4"})", 1, 7, "more than a plain number", R"("3' 6-3/4\"")"},
        {R"({"a": 12mm})", 1, 7, "12mm", "\"12mm\""},
        {R"({"a": 1/2})", 1, 7, "1/2", "\"1/2\""},
        {R"({"a": 05})", 1, 7, "starts with 0", "leading 0"},
        {R"({"a": .5})", 1, 7, ".5 is not written", "0.5"},
        {R"({"a": 1.})", 1, 7, "1. is not written", "0.5"},
        {R"({"a": +5})", 1, 7, "+5 is not written", "5"},
        {R"({"a": -})", 1, 7, "- is not written", "0.5"},
        {R"({"a": 1 /* x})", 1, 9, "never closed", "*/"},
        {R"({"a": #})", 1, 7, "# stands where a value", "number"},
        {"}", 1, 1, "closing bracket", "{"},
    };
    for (const Fault& fault : faults) {
        INFO(fault.text);
        const LocatedJson read = read_located_json(fault.text);
        REQUIRE_FALSE(read.root);
        REQUIRE(read.findings.size() == 1);
        const Finding& finding = read.findings.front();
        CHECK(finding.code == "file.not-json");
        CHECK(finding.line == fault.line);
        CHECK(finding.column == fault.column);
        CHECK_THAT(finding.message, ContainsSubstring(fault.says));
        CHECK_THAT(finding.fix, ContainsSubstring(fault.fix));
    }
}

TEST_CASE("A lost bracket is looked for where the indentation stops to agree, not at the end of the file") {
    const std::string lost = "{\n  \"a\": {\n    \"b\": { \"x\": 1\n  },\n  \"c\": 2\n}\n";
    const Finding missing = read_located_json(lost).findings.at(0);
    CHECK(missing.line == 4);
    CHECK_THAT(missing.message, ContainsSubstring("} is missing") && ContainsSubstring("line 3"));

    const std::string doubled = "{\n  \"a\": {\n    \"b\": 1 }\n  },\n  \"c\": 2\n}\n";
    const Finding many = read_located_json(doubled).findings.at(0);
    CHECK(many.line == 4);
    CHECK_THAT(many.message, ContainsSubstring("too many"));
}

TEST_CASE("A number ends where the grammar of JSON ends it") {
    CHECK(json_number_length("12,") == 2);
    CHECK(json_number_length("-0.5e+3 ") == 7);
    CHECK(json_number_length("05") == 1);
    CHECK(json_number_length("1.") == 1);
    CHECK(json_number_length("1e") == 1);
    CHECK(json_number_length("-") == 0);
    CHECK(json_number_length(".5") == 0);
    CHECK(json_number_length("") == 0);
}
