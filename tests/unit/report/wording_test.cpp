#include "report/wording.hpp"

#include <cmath>
#include <string>
#include <vector>

#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

Project job(Unit unit, Preset preset = Preset::joinery) {
    Project project;
    project.unit = unit;
    project.accuracy.preset = preset;
    if (unit == Unit::inch || unit == Unit::foot) project.tools.rule_step_mm = 25.4 / 16.0;
    return project;
}

}  // namespace

TEST_CASE("a text is made safe for one line of a terminal") {
    CHECK(clean_text("Courtyard planter") == "Courtyard planter");
    CHECK(clean_text("  two\n\nlines\tand a tab ") == "two lines and a tab");
    CHECK(clean_text("\x1b[31mred\x1b[0m") == "[31mred [0m");
    CHECK(clean_text("turned \xE2\x80\xAE round") == "turned round");
    CHECK(clean_text("\xC2\x9B"
                     "31m") == "31m");
    CHECK(clean_text("bad \xFF byte") == "bad ? byte");
    CHECK(clean_text("B\xC3\xA4nk") == "B\xC3\xA4nk");
    CHECK(clean_text("") == "");
    CHECK(clean_text("0123456789", 10) == "0123456789");
    CHECK(clean_text("0123456789a", 10) == "0123456...");
    CHECK(clean_line("a   b\x1b") == "a   b ");
}

TEST_CASE("columns are characters, not bytes") {
    CHECK(columns_of("B\xC3\xA4nk") == 4);
    CHECK(padded("\xC2\xBD", 3) == "\xC2\xBD  ");
    CHECK(padded_before("\xC2\xBD", 3) == "  \xC2\xBD");
    CHECK(padded("longer", 3) == "longer");
}

TEST_CASE("text is broken at blanks, and words longer than a line are cut") {
    CHECK(wrapped("", 10) == std::vector<std::string>{""});
    CHECK(wrapped("one two three", 7) == std::vector<std::string>{"one two", "three"});
    CHECK(wrapped("abcdefgh", 3) == std::vector<std::string>{"abc", "def", "gh"});
    CHECK(wrapped("A 108    B 115", 20) == std::vector<std::string>{"A 108    B 115"});
}

TEST_CASE("broken text keeps every word and no line is wider than asked") {
    boardring_test::Random random(20240611);
    for (int i = 0; i < 2000; ++i) {
        std::string text, words;
        for (std::size_t w = random.index(12); w > 0; --w) {
            std::string word;
            for (std::size_t c = 1 + random.index(14); c > 0; --c) word += random.chance(0.2) ? "\xC3\xA9" : "x";
            text += word + std::string(1 + random.index(3), ' ');
            words += word;
        }
        const std::size_t columns = 1 + random.index(20);
        std::string kept;
        for (const std::string& line : wrapped(text, columns)) {
            CHECK(columns_of(line) <= columns);
            for (const char c : line) {
                if (c != ' ') kept += c;
            }
        }
        CHECK(kept == words);
    }
}

TEST_CASE("lists read as people say them") {
    CHECK(and_list({}) == "");
    CHECK(and_list({"a"}) == "a");
    CHECK(and_list({"a", "b"}) == "a and b");
    CHECK(and_list({"a", "b", "c"}) == "a, b and c");
    CHECK(and_list({"a", "b", "c"}, "or") == "a, b or c");
    CHECK(board_list({5, 0, 1}) == "1, 2 and 6");
    CHECK(board_list({0, 1, 2, 3, 4, 8}) == "1 to 5 and 9");
    CHECK(board_list({0, 1, 2}) == "1, 2 and 3");
    CHECK(board_list({2}) == "3");
    CHECK(count_word(6) == "six");
    CHECK(count_word(13) == "13");
    CHECK(counted(1, "piece", "pieces") == "1 piece");
    CHECK(counted(2, "piece", "pieces") == "2 pieces");
}

TEST_CASE("sentences begin large and end once") {
    CHECK(sentence("plane it") == "Plane it.");
    CHECK(sentence("Plane it.") == "Plane it.");
    CHECK(sentence("") == "");
    CHECK(sentence("which?") == "Which?");
    CHECK(headline("Courtyard planter") == "COURTYARD PLANTER");
    CHECK(headline("B\xC3\xA4nk") == "B\xC3\xA4nk");
}

TEST_CASE("settings are read on the maker's own scale") {
    Project project = job(Unit::mm);
    project.tools.slope_by = SlopeBy::saw;
    CHECK(show_setting(15.295, project) == "15.5");
    CHECK(show_setting(-44.705, project) == "44.5");
    CHECK(show_setting(0.0, project) == "0");
    project.tools.scale_at_square_deg = 90.0;
    CHECK(show_setting(15.295, project) == "74.5");
    CHECK(show_setting(0.0, project) == "90");
    project.tools.saw_step_deg = 0.25;
    CHECK(show_setting(15.295, project) == "74.75");
    project.tools.slope_by = SlopeBy::bevel;  // the scale's steps do not bind a bevel
    CHECK(show_setting(15.295, project) == "74.7");
    project.tools.scale_at_square_deg = 0.0;
    CHECK(show_setting(15.295, project) == "15.3");
    CHECK(shown_away_deg(0.04, project) == 0.0);
}

TEST_CASE("misfits are shown as finely as the work deserves") {
    CHECK(shown_misfit(0.06, job(Unit::mm, Preset::garden)) == "under 1");
    CHECK(shown_misfit(1.44, job(Unit::mm, Preset::garden)) == "1.4");
    CHECK(shown_misfit(0.06, job(Unit::mm)) == "under 0.1");
    CHECK(shown_misfit(-0.26, job(Unit::mm)) == "0.3");
    CHECK(shown_misfit(0.0, job(Unit::mm)) == "under 0.1");
    CHECK(shown_misfit(26.4, job(Unit::mm)) == "26");
    CHECK(shown_misfit(0.034, job(Unit::mm, Preset::fine)) == "0.03");
    CHECK(shown_misfit(0.4, job(Unit::cm)) == "0.4 mm");
    CHECK(shown_misfit(0.5, job(Unit::inch, Preset::garden)) == "under 1/32");
    CHECK(shown_misfit(1.2, job(Unit::inch, Preset::garden)) == "1/16");
    CHECK(shown_misfit(0.4, job(Unit::inch)) == "1/64");
    CHECK(shown_misfit(2.87, job(Unit::inch)) == "7/64");
    CHECK(shown_misfit(0.05, job(Unit::foot)) == "under 1/64");
    CHECK(shown_misfit(0.4, job(Unit::inch, Preset::fine)) == "0.016");
    CHECK(shown_misfit(0.02, job(Unit::inch, Preset::fine)) == "under 0.001");
    CHECK(shown_misfit(25.4, job(Unit::inch)) == "1");
}

TEST_CASE("the wanted gap is said as it was asked for") {
    Project project = job(Unit::cm, Preset::garden);
    project.wanted.gap_mm = 0.5;
    CHECK(shown_wanted_gap(project) == "0.5 mm");
    project = job(Unit::inch);
    project.wanted.gap_mm = 25.4 / 32.0;
    CHECK(shown_wanted_gap(project) == "1/32");
    project.wanted.gap_mm = 1.0;
    CHECK(shown_wanted_gap(project) == "0.039");
}

TEST_CASE("a bevel steeper than 45 is set from the other arm, wherever it is said") {
    const Project project = job(Unit::mm);
    CHECK(bevel_words(173.2, 300.0, project) == "rise 173 from 300");
    CHECK(bevel_words(300.0, 300.0, project) == "rise 300 from 300");
    CHECK(bevel_words(353.6, 300.0, project) == "rise 300 from 254.5");
    CHECK(bevel_cell(353.6, 300.0, project) == "300 in 254.5");
    CHECK(bevel_cell(82.0, 300.0, project) == "82");
}

TEST_CASE("what to ask the yard for is rounded up") {
    CHECK(shown_run(2801.0, Unit::mm) == "2.9 m");
    CHECK(shown_run(2800.0, Unit::cm) == "2.8 m");
    CHECK(shown_run(3.0 * 304.8, Unit::inch) == "3 ft");
    CHECK(shown_run(3.0 * 304.8 + 1.0, Unit::foot) == "4 ft");
    CHECK(shown_section(139.7, 38.1, job(Unit::inch)) == "5-1/2 x 1-1/2");
}

TEST_CASE("sums are judged by the digits printed") {
    CHECK(adds_up({"15.5", "44.5"}, "60"));
    CHECK(adds_up({"61.7", "-1.7"}, "60"));
    CHECK_FALSE(adds_up({"15.3", "44.6"}, "60"));
    CHECK(adds_up({"0.1", "0.2"}, "0.3"));
}
