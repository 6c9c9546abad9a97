#include "io/write_wood_left.hpp"

#include <string>

#include "io/read_project.hpp"
#include "plan/plan.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

Project read(const std::string& text, const std::string& wood_left = "") {
    const ProjectRead read = read_project(text, [&](const std::string&) { return BesideText{wood_left, ""}; });
    for (const Finding& finding : read.findings) INFO(finding.message);
    REQUIRE(read.project);
    return *read.project;
}

std::string pieces(const std::string& units, const std::string& stock, const std::string& more, const std::string& length) {
    return R"({"format": "boardring-project-1", "units": ")" + units + R"(", )" + more + R"("stock": )" + stock +
           R"(, "pieces": [{"name": "foot", "stock": "rail", "length": )" + length + "}]}";
}

}  // namespace

TEST_CASE("Wood left by one job is on offer to the next, length by length") {
    for (const std::string units : {"mm", "cm", "m", "in", "ft"}) {
        INFO(units);
        const std::string rail = R"({"rail": {"width": "145 mm", "thickness": "38 mm", "surface": "show-face", "end_trim": "20 mm", "species": "larch",
            "lengths": [{"length": "2400 mm", "price": 9.6}, {"length": "1810 mm", "count": 3, "offcut": true}, {"length": "400 mm", "count": 2, "offcut": true}]}})";
        const Plan first = make_plan(read(pieces(units, rail, "", "\"1700 mm\"")));
        REQUIRE(first.buying);
        REQUIRE(first.buying->sections[0].buy.bars.size() == 1);  // from the pile: free
        const std::string left = write_wood_left(*first.buying, {&first.project});
        const Project next = read(pieces(units, "{}", R"("stock_file": "wood-left.json", )", "\"1000 mm\""), left);
        REQUIRE(next.stock.size() == 1);
        const Stock& stock = next.stock[0];
        CHECK(stock.name == "rail");
        CHECK(stock.width_mm == Approx(145.0));
        CHECK(stock.thickness_mm == Approx(38.0));
        CHECK(stock.surface == Surface::show_face);
        CHECK(stock.species == "larch");
        CHECK(stock.end_trim_mm == Approx(20.0));
        // Two whole boards of 1810 and two of 400; the rest of 107 behind the piece is too short to hold.
        REQUIRE(stock.lengths.size() == 2);
        CHECK(stock.lengths[0].length_mm == Approx(1810.0));
        CHECK(stock.lengths[0].count == 2);
        CHECK(stock.lengths[0].offcut);
        CHECK(stock.lengths[1].length_mm == Approx(400.0));
        CHECK(stock.lengths[1].count == 2);
    }
}

TEST_CASE("A rest is cut down to the step of the rule, never up, and counts as yours") {
    const std::string rail = R"({"rail": {"width": 145, "thickness": 38, "end_trim": 0, "lengths": [{"length": 2400, "price": 9.6}]}})";
    const Plan first = make_plan(read(pieces("mm", rail, "", "1000.3")));
    const std::string left = write_wood_left(*first.buying, {&first.project});
    const Project next = read(pieces("mm", rail, R"("stock_file": "wood-left.json", )", "1000.3"), left);
    REQUIRE(next.stock[0].lengths.size() == 2);
    CHECK(next.stock[0].lengths[1].length_mm == 1396.5);  // 2400 - 1000.3 - 3 of the saw = 1396.7
    CHECK(next.stock[0].lengths[1].count == 1);
    const Plan second = make_plan(next);
    REQUIRE(second.buying->sections[0].buy.bars.size() == 1);
    CHECK(second.buying->sections[0].buy.price == 0.0);
}

TEST_CASE("The name of a stock comes back whatever stands in it") {
    // Keys were once written as they are: a quote in a name made a list that no job could read.
    for (const std::string name : {"2\\\" rail", "C:\\\\yard", "l\u00e4rche \U0001f332", "a\\u0022b"}) {
        INFO(name);
        const std::string stock = "{\"" + name + R"(": {"width": 145, "thickness": 38, "lengths": [{"length": 2400, "price": 9.6}]}})";
        const std::string piece = R"(, "pieces": [{"name": "foot", "length": 1000, "stock": ")" + name + "\"}]}";
        const std::string head = R"({"format": "boardring-project-1", "units": "mm", )";
        const Plan first = make_plan(read(head + R"("stock": )" + stock + piece));
        REQUIRE(first.buying);
        const std::string left = write_wood_left(*first.buying, {&first.project});
        const Project next = read(head + R"("stock": {}, "stock_file": "wood-left.json")" + piece, left);
        REQUIRE(next.stock.size() == 1);
        CHECK(next.stock[0].name == first.project.stock[0].name);
    }
}
