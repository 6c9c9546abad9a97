#include "drawing/dxf.hpp"

#include <algorithm>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "support/catch.hpp"

using namespace boardring;

namespace {

using Pairs = std::vector<std::pair<int, std::string>>;

// Group codes and values; a code that is no number stops the test.
Pairs pairs_of(const std::string& dxf) {
    std::istringstream lines(dxf);
    Pairs pairs;
    for (std::string code, value; std::getline(lines, code) && std::getline(lines, value);) pairs.emplace_back(std::stoi(code), value);
    return pairs;
}

std::vector<std::string> values_of(const Pairs& pairs, int code) {
    std::vector<std::string> values;
    for (const auto& [c, value] : pairs) {
        if (c == code) values.push_back(value);
    }
    return values;
}

Drawing drawing_of(std::string text) {
    Drawing d;
    d.page_high = {100.0, 50.0};
    d.strokes.push_back({Pen::outline, {{0, 0}, {10, 0}, {10, 5}}, true});
    d.strokes.push_back({Pen::cut, {{-1.5, 1e-9}, {1.0 / 3.0, -1e-12}}, false});
    d.circles.push_back({Pen::thin, Fill::blank, {3, 4}, 2.5});
    d.regions.push_back({Fill::ink, {{0, 0}, {1, 0}, {1, 1}, {0, 1}}});
    d.regions.push_back({Fill::wood, {{0, 0}, {1, 0}, {1, 1}}});
    d.labels.push_back({{5, 6}, std::move(text), 3.5, 90.0, Align::right, true});
    return d;
}

}  // namespace

TEST_CASE("what is drawn stands in the file once, at full size, on the layer of its line kind") {
    const Pairs pairs = pairs_of(write_dxf(drawing_of("corner A")));
    std::vector<std::string> kinds;
    bool entities = false;
    for (const auto& [code, value] : pairs) {
        if (code == 2 && value == "ENTITIES") entities = true;
        if (entities && code == 0) kinds.push_back(value);
    }
    // A square of black is a fan of two triangles; the wood-coloured region is left out.
    CHECK(kinds == std::vector<std::string>{"SOLID", "SOLID", "POLYLINE", "VERTEX", "VERTEX", "VERTEX", "SEQEND", "LINE", "CIRCLE", "TEXT", "ENDSEC",
                                            "EOF"});
    CHECK(pairs.back() == std::pair<int, std::string>{0, "EOF"});
    const std::vector<std::string> ends = values_of(pairs, 11);
    CHECK(std::find(ends.begin(), ends.end(), "0.333333") != ends.end());
    for (const auto& [code, value] : pairs) CHECK(value != "-0.0");
}

TEST_CASE("texts are ASCII, and no text can end a line") {
    const auto text = [](const std::string& given) {
        const Pairs pairs = pairs_of(write_dxf(drawing_of(given)));
        const std::vector<std::string> texts = values_of(pairs, 1);
        return texts.back();  // the first is the release
    };
    CHECK(text("corner A") == "corner A");
    CHECK(text("120\u00b0 \u00b1 3") == "120%%d %%p 3");
    CHECK(text("50 % \u00fc\u4e2d") == "50 %%37 \\U+00FC\\U+4E2D");
    CHECK(text("a\n  0\nEOF\r\x1b[1m") == "a   0 EOF[1m");
    CHECK(text("x\xff") == "x\\U+FFFD");
}
