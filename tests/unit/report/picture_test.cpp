#include "report/picture.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "base/names.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

using Lines = std::vector<std::string>;

std::vector<Vec2> regular(std::size_t corners) {
    std::vector<Vec2> points;
    Vec2 at;
    for (std::size_t i = 0; i < corners; ++i) {
        points.push_back(at);
        at = at + 100.0 * unit_deg(360.0 * static_cast<double>(i) / static_cast<double>(corners));
    }
    return points;
}

// Every run of letters or of digits in the picture.
std::map<std::string, int> names_in(const Lines& lines) {
    std::map<std::string, int> names;
    for (const std::string& line : lines) {
        std::string run;
        const auto kind = [](char c) { return c >= 'A' && c <= 'Z' ? 1 : c >= '0' && c <= '9' ? 2 : 0; };
        for (std::size_t i = 0; i <= line.size(); ++i) {
            const char c = i < line.size() ? line[i] : ' ';
            if (!run.empty() && kind(c) != kind(run.back())) {
                ++names[run];
                run.clear();
            }
            if (kind(c) != 0) run += c;
        }
    }
    return names;
}

void check_names(const Lines& lines, std::size_t corners, std::size_t sides) {
    std::map<std::string, int> wanted;
    for (std::size_t c = 0; c < corners; ++c) ++wanted[corner_letter(c)];
    for (std::size_t k = 0; k < sides; ++k) ++wanted[board_number(k)];
    CHECK(names_in(lines) == wanted);
}

}  // namespace

TEST_CASE("a hexagon looks like one") {
    const Lines wanted{
        "   E___4___D",      //
        "5 /         \\ 3",  //
        " /           \\",   //
        "F             C",   //
        " \\           /",   //
        "6 \\         / 2",  //
        "   A___1___B",
    };
    CHECK(picture_lines(regular(6), true, false, 7, 42) == wanted);
}

TEST_CASE("a rectangle and an L look like what they are") {
    const Lines rectangle{
        "  D_______3_______C",    //
        "  |               |",    //
        "4 |               | 2",  //
        "  |               |",    //
        "  A_______1_______B",
    };
    CHECK(picture_lines({{0, 0}, {1200, 0}, {1200, 600}, {0, 600}}, true, false, 5, 42) == rectangle);
    const Lines ell{
        "  F_5__E",           //
        "  |    | 4",         //
        "6 |    |",           //
        "  |    D__3___C",    //
        "  |           | 2",  //
        "  A_____1_____B",
    };
    CHECK(picture_lines({{0, 0}, {2400, 0}, {2400, 900}, {1000, 900}, {1000, 2100}, {0, 2100}}, true, false, 7, 42) == ell);
}

TEST_CASE("an open chain has no side between its free ends") {
    const Lines casing{
        "  C_2_B",    //
        "  |   |",    //
        "3 |   | 1",  //
        "  |   |",    //
        "  D   A",
    };
    CHECK(picture_lines({{900, 0}, {900, 1800}, {0, 1800}, {0, 0}}, false, false, 5, 42) == casing);
}

TEST_CASE("clockwise letters put the numbers outside too") {
    const Lines lines = picture_lines({{0, 0}, {0, 600}, {1200, 600}, {1200, 0}}, true, true, 5, 42);
    REQUIRE(lines.size() == 5);
    CHECK(lines[2].substr(0, 3) == "1 |");
    CHECK(lines[0].find("B_______2_______C") != std::string::npos);
}

TEST_CASE("regular rings up to the most boards show every letter and number once and lean alike on both hands") {
    for (std::size_t n = 3; n <= kMostPictureBoards; ++n) {
        const Lines lines = picture_lines(regular(n), true, false, 13, 42);
        INFO(n);
        REQUIRE_FALSE(lines.empty());
        CHECK(lines.size() <= 13);
        check_names(lines, n, n);
        for (const std::string& line : lines) {
            CHECK(line.size() <= 42);
            CHECK(std::count(line.begin(), line.end(), '/') == std::count(line.begin(), line.end(), '\\'));
        }
    }
}

TEST_CASE("more boards than can be told apart give no picture") {
    CHECK(picture_lines(regular(kMostPictureBoards + 1), true, false, 40, 100).empty());
    CHECK(picture_lines(regular(6), true, false, 2, 42).empty());
}

TEST_CASE("whatever picture there is names every corner and board once and keeps to its room") {
    boardring_test::Random random(77);
    std::size_t drawn = 0;
    for (int i = 0; i < 1000; ++i) {
        const std::size_t n = 3 + random.index(12);
        std::vector<Vec2> points;
        for (std::size_t c = 0; c < n; ++c) {
            points.push_back(random.between(0.4, 1.0) *
                             unit_deg(360.0 * (static_cast<double>(c) + 0.8 * random.unit()) / static_cast<double>(n)));
        }
        const bool closed = random.chance(0.7);
        const std::size_t rows = 3 + random.index(11);
        const Lines lines = picture_lines(points, closed, false, rows, 42);
        if (lines.empty()) continue;
        ++drawn;
        CHECK(lines.size() <= rows);
        check_names(lines, n, closed ? n : n - 1);
        for (const std::string& line : lines) {
            CHECK(line.size() <= 42);
            CHECK(line.find_last_not_of(' ') + 1 == line.size());
        }
    }
    CHECK(drawn > 300);
}
