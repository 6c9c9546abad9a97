#include "drawing/line_styles.hpp"

#include <cmath>
#include <vector>

#include "support/catch.hpp"

using namespace boardring;

TEST_CASE("dashes begin and end with a whole one on lines of any length") {
    for (const Pen pen : {Pen::given, Pen::hidden}) {
        for (double length = 3.0; length < 400.0; length *= 1.37) {
            const std::vector<double> dashes = dash_mm(pen, length);
            REQUIRE(dashes.size() % 2 == 0);
            double period = 0.0;
            for (const double mm : dashes) {
                CHECK(mm > 0.0);
                period += mm;
            }
            // The line is some periods and one first dash long.
            const double periods = (length - dashes.front()) / period;
            CHECK(std::abs(periods - std::round(periods)) < 1e-9);
            CHECK(periods > 0.5);
        }
    }
    CHECK(dash_mm(Pen::outline, 50.0).empty());
    CHECK(dash_mm(Pen::cut, 50.0).empty());
}

TEST_CASE("a text loses controls, turning marks and codes that are no characters, and nothing else") {
    CHECK(plain_line("a\tb\nc") == "a b c");
    CHECK(plain_line("\x1b[31mred") == "[31mred");
    CHECK(plain_line("a\u202egnp\u202c.b\u200f") == "agnp.b");
    CHECK(plain_line("x\xff\xfey") == "x\uFFFD\uFFFDy");
    CHECK(plain_line("\u00fc \u4e2d \u05e9 \U0001F600 \"<&>\"") == "\u00fc \u4e2d \u05e9 \U0001F600 \"<&>\"");
    CHECK(plain_line("") == "");
}

TEST_CASE("the length of a stroke counts the way back only where it is closed") {
    Stroke stroke{Pen::thin, {{0, 0}, {3, 4}, {3, 0}}, false};
    CHECK(stroke_length(stroke) == 9.0);
    stroke.closed = true;
    CHECK(stroke_length(stroke) == 12.0);
    CHECK(stroke_length({}) == 0.0);
}
