// Texts that are no JSON, or JSON that no project is, of every kind that readers of JSON are known to trip over. All are our own. Each is
// refused with a line and a column, by each of the three readers, and in a time that grows no faster than the text.
#include <algorithm>
#include <ctime>
#include <string>
#include <utility>
#include <vector>

#include "io/located_json.hpp"
#include "io/read_as_cut.hpp"
#include "io/read_project.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

using Text = std::pair<std::string, std::string>;  // what is wrong, and the text

const std::string kGood = R"({"format": "boardring-project-1", "title": "Bed", "units": "mm",
 "outline": {"line": "inside", "regular": {"corners": 6, "over_flats": 640}},
 "stock": {"rail": {"width": 145, "thickness": 38}},
 "boards": {"lie": "on edge", "all": {"stock": "rail"}}})";

const std::string kGoodStock = R"({"format": "boardring-stock-1", "units": "mm", "stock": {"rail": {"width": 145, "thickness": 38}}})";

std::string repeated(const std::string& part, std::size_t times) {
    std::string text;
    for (std::size_t i = 0; i < times; ++i) text += part;
    return text;
}

// What no reader of JSON may take.
std::vector<Text> no_json() {
    std::vector<Text> texts;
    for (std::size_t cut = 0; cut < kGood.size(); ++cut) texts.emplace_back("cut off after " + std::to_string(cut), kGood.substr(0, cut));
    for (const char* brackets : {"[", "{\"a\":", "[{\"a\":", "[[],", "{\"a\":[{},"}) {
        for (const std::size_t deep : {1u, 33u, 1000u, 100000u}) texts.emplace_back("opened and never closed", repeated(brackets, deep));
    }
    texts.emplace_back("33 levels, closed", repeated("[", 33) + repeated("]", 33));
    texts.emplace_back("a hundred thousand levels, closed", repeated("[", 100000) + repeated("]", 100000));
    for (const char* rest : {"]", "}", ")", "null", "{}", "1", "\"x\"", ",", ":", "\\", "#", "'", "\x01", "x"}) texts.emplace_back("more behind the end", kGood + rest);
    for (const char* value : {"\"\\ud800\"", "\"\\udc00\"", "\"\\ud800\\ud800\"", "\"\\ud800x\"", "\"\\ud800\\u0041\"", "\"\\udbff\\n\"", "\"\\u\"", "\"\\u12\"", "\"\\u12g4\"", "\"\\U0041\"",
                              "\"\\x41\"", "\"\\'\"", "\"\\0\"", "\"\\\"", "\"a\nb\"", "\"a\tb\"", "\"a\rb\"", "\"a\x1f\"", "\"", "'a'", "`a`", "\"\"a\"", "a", "nul", "nulll", "True",
                              "FALSE", "None", "undefined", "NaN", "-NaN", "Infinity", "-Infinity", "inf", "1e400", "-1e400", "1e999999999999", "0x10", "0b1", "0o7", "01", "-01", "00", "1.",
                              ".5", "-.5", "+1", "--1", "-", "1e", "1e+", "1E-", "1.e3", "1e1.5", "1_000", "1,000", "1 2", "1/2", "1n", "\xef\xbc\x91", "[1,]", "[,1]", "[1,,2]",
                              "[1 2]", "[1:2]", "[1}", "{\"a\" 1}", "{\"a\":}", "{\"a\":1,}", "{,}", "{\"a\":1 \"b\":2}", "{a:1}", "{'a':1}", "{1:2}", "{null:1}", "{\"a\"}", "{\"a\":1]",
                              "{\"a\"::1}", "{\"a\":1,,\"b\":2}", "(1)", "<a/>", "--x", "/", "/ /", "/*", "/* /*", "*/", "<!-- -->", "# 1"}) {
        texts.emplace_back("a value no JSON has", std::string("{\"format\": \"boardring-project-1\", \"title\": ") + value + "}");
    }
    // Bytes that are no UTF-8: alone, cut short, too long for what they say, half of a pair, beyond the last character.
    for (const char* bytes : {"\x80", "\xbf", "\xc3", "\xc3(", "\xc0\xaf", "\xc1\x81", "\xe2\x82", "\xe2(\xa1", "\xe0\x80\xaf", "\xed\xa0\x80", "\xed\xbf\xbf", "\xf0\x9f\x8c", "\xf0\x80\x80\xaf",
                              "\xf4\x90\x80\x80", "\xf5\x80\x80\x80", "\xf8\x88\x80\x80\x80", "\xfe", "\xff"}) {
        texts.emplace_back("no UTF-8 in a text", std::string("{\"title\": \"") + bytes + "\"}");
        texts.emplace_back("no UTF-8 in a key", std::string("{\"") + bytes + "\": 1}");
        texts.emplace_back("no UTF-8 outside", std::string("{\"a\": 1}") + bytes);
        texts.emplace_back("no UTF-8 in a comment", std::string("// ") + bytes + "\n{\"a\": 1}");
    }
    texts.emplace_back("UTF-16, low byte first", std::string("\xff\xfe{\0}\0", 6));
    texts.emplace_back("UTF-16, high byte first", std::string("\xfe\xff\0{\0}", 6));
    texts.emplace_back("UTF-16 without a mark", std::string("{\0\"\0a\0\"\0:\0001\0}\0", 14));
    texts.emplace_back("UTF-32", std::string("\xff\xfe\0\0{\0\0\0}\0\0\0", 12));
    texts.emplace_back("two byte order marks", "\xef\xbb\xbf\xef\xbb\xbf" + kGood);
    texts.emplace_back("a byte order mark inside", "{\xef\xbb\xbf\"a\": 1}");
    texts.emplace_back("half a byte order mark", "\xef\xbb" + kGood);
    texts.emplace_back("nothing but a byte order mark", "\xef\xbb\xbf");
    for (const char* blank : {"", " ", "\n", "\r\n\t ", "// only a comment", "/* only a comment */", "\f{}", "\v{}", "\xc2\xa0{}", "\xe2\x80\xa8{}"}) texts.emplace_back("nothing to read", blank);
    texts.emplace_back("a NUL alone", std::string("\0", 1));
    texts.emplace_back("a NUL behind", kGood + std::string("\0", 1));
    texts.emplace_back("a NUL in a text", std::string("{\"title\": \"a\0b\"}", 16));
    texts.emplace_back("a NUL in a key", std::string("{\"a\0b\": 1}", 10));
    texts.emplace_back("a million NULs", std::string(1000000, '\0'));
    texts.emplace_back("a comment never closed", kGood + "/* " + std::string(1000000, '*'));
    texts.emplace_back("a text never closed", "{\"title\": \"" + std::string(1000000, 'x'));
    texts.emplace_back("a number of a million digits, too large", "{\"a\": " + std::string(1000000, '9') + "}");
    texts.emplace_back("an exponent of a million digits", "{\"a\": 1e" + std::string(1000000, '9') + "}");
    texts.emplace_back("too many values", "[" + repeated("0,", 250000) + "0]");
    texts.emplace_back("too many bytes", std::string(4500000, ' ') + kGood);
    texts.emplace_back("backslashes", "{\"a\": \"" + std::string(999999, '\\'));
    return texts;
}

// JSON, but no project: refused a step later.
std::vector<Text> no_project() {
    std::vector<Text> texts;
    for (const char* value : {"null", "true", "0", "-0", "1e308", "5e-324", "\"\"", "\"boardring-project-1\"", "[]", "{}", "[[]]", "[{}]", "{\"\": {}}", "{\"format\": null}", "{\"format\": 1}",
                              "{\"format\": []}", "{\"format\": \"boardring-project-2\"}", "{\"format\": \"BOARDRING-PROJECT-1\"}", "{\"format\": \"boardring-project-1\\u0000\"}",
                              "{\"format\": \"boardring-project-1\"}"}) {
        texts.emplace_back("no project", value);
    }
    for (const char* key : {"format", "title", "units", "outline", "stock", "boards"}) {
        std::string twice = kGood;
        twice.insert(1, std::string("\"") + key + "\": 1, ");
        texts.emplace_back("the same key twice, the first wrong", twice);
    }
    texts.emplace_back("equal keys, one written with escapes", kGood.substr(0, 1) + R"("\u0066ormat": "boardring-project-1", )" + kGood.substr(1));
    texts.emplace_back("a key nobody knows", kGood.substr(0, 1) + R"("__proto__": {}, )" + kGood.substr(1));
    texts.emplace_back("a hundred thousand keys nobody knows", [] {
        std::string text = "{";
        for (int i = 0; i < 90000; ++i) text += "\"k" + std::to_string(i) + "\": 0, ";
        return text + kGood.substr(1);
    }());
    texts.emplace_back("a hundred thousand equal keys", "{" + repeated("\"title\": 0, ", 90000) + kGood.substr(1));
    for (const char* number : {"1e308", "-1e308", "123456789012345678901234567890", "-0", "0", "1e15"}) {
        std::string text = kGood;
        text.replace(text.find("640"), 3, number);
        texts.emplace_back("no size a ring has", text);
    }
    return texts;
}

bool has_place(const Findings& findings) {
    for (const Finding& finding : findings) {
        if (finding.severity == Severity::error && finding.line >= 1 && finding.column >= 1 && !finding.message.empty() && !finding.fix.empty()) return true;
    }
    return false;
}

Project good() { return *read_project(kGood).project; }

}  // namespace

TEST_CASE("The texts that the malformed ones are made of are read") {
    REQUIRE(read_project(kGood).project);
    REQUIRE(read_project("\xef\xbb\xbf" + kGood + " // the end").project);
    REQUIRE(read_as_cut(R"({"format": "boardring-as-cut-1", "boards": {"1": {"long": 413}}})", good()).as_cut);
}

TEST_CASE("What is no JSON is refused with its place, as a project, as measured boards and as a list of stock") {
    const Project project = good();
    const std::string asks = R"({"format": "boardring-project-1", "units": "mm", "stock_file": "yard.json", "pieces": [{"name": "foot", "stock": "rail", "length": 80}]})";
    REQUIRE(read_project(asks, [](const std::string&) { return BesideText{kGoodStock, ""}; }).project);
    for (const auto& [what, text] : no_json()) {
        INFO(what << ": " << text.substr(0, 120));
        const LocatedJson json = read_located_json(text);
        CHECK_FALSE(json.root);
        CHECK(has_place(json.findings));
        const ProjectRead read = read_project(text);
        CHECK_FALSE(read.project);
        CHECK(has_place(read.findings));
        const AsCutRead cut = read_as_cut(text, project);
        CHECK_FALSE(cut.as_cut);
        CHECK(has_place(cut.findings));
        const ProjectRead beside = read_project(asks, [&text = text](const std::string&) { return BesideText{text, ""}; });
        CHECK_FALSE(beside.project);
        CHECK(has_place(beside.findings));  // the project's own place: the key that names the list
    }
}

TEST_CASE("JSON that is no project is refused with its place") {
    for (const auto& [what, text] : no_project()) {
        INFO(what << ": " << text.substr(0, 120));
        const ProjectRead read = read_project(text);
        CHECK_FALSE(read.project);
        CHECK(has_place(read.findings));
    }
}

TEST_CASE("Reading takes no longer than the text is long") {
    // The same text eight times as long in at most thirty times the time: what grows with the square takes sixty-four times. Of the
    // processor's time the least of five tries, so that another program's work does not count.
    const auto lasts = [](const std::string& text) {
        double least = 1e9;
        for (int i = 0; i < 5; ++i) {
            const std::clock_t start = std::clock();
            read_project(text);
            least = std::min(least, static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
        }
        return least;
    };
    const std::vector<std::pair<const char*, std::string (*)(std::size_t)>> kinds{
        // One line of many brackets: each closing one once looked back for the start of the line, and 200,000 of them took minutes.
        {"brackets in one line", [](std::size_t n) { return "[" + repeated("[],", n) + "0]"; }},
        {"brackets in one line of an object", [](std::size_t n) { return "{\"a\": [" + repeated("{},", n) + "0]}"; }},
        {"brackets in lines of their own", [](std::size_t n) { return "[" + repeated("[\n],\n", n) + "0]"; }},
        {"unknown keys", [](std::size_t n) {
             std::string text = "{";
             for (std::size_t i = 0; i < n; ++i) text += "\"k" + std::to_string(i) + "\": 0, ";
             return text + kGood.substr(1);
         }},
        {"equal keys", [](std::size_t n) { return "{" + repeated("\"title\": 0, ", n) + kGood.substr(1); }},
        {"an open text", [](std::size_t n) { return "{\"title\": \"" + std::string(20 * n, 'x'); }},
        {"line ends", [](std::size_t n) { return std::string(20 * n, '\n') + "{"; }},
        {"digits", [](std::size_t n) { return "{\"a\": 0." + std::string(20 * n, '7') + "}"; }},
        {"lost commas", [](std::size_t n) { return "{" + repeated("\"a\": [1, 2]\n", n); }},
        {"escapes", [](std::size_t n) { return "{\"a\": \"" + repeated("\\u00e9", 3 * n) + "\"}"; }},
    };
    for (const auto& [what, text] : kinds) {
        INFO(what);
        const double small = lasts(text(5000));
        const double large = lasts(text(40000));
        CHECK(large < 30.0 * small + 0.01);
    }
}
