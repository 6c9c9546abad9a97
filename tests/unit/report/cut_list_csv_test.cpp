#include "report/cut_list_csv.hpp"

#include <string>
#include <vector>

#include "base/length_text.hpp"
#include "support/catch.hpp"
#include "unit/report/drawn_plans.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

using Table = std::vector<std::vector<std::string>>;

// RFC 4180, written from the rules and not from our writer.
Table parsed(const std::string& text) {
    Table table(1, {""});
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (quoted) {
            if (c != '"') {
                table.back().back() += c;
            } else if (i + 1 < text.size() && text[i + 1] == '"') {
                table.back().back() += '"';
                ++i;
            } else {
                quoted = false;
            }
        } else if (c == '"') {
            quoted = true;
        } else if (c == ',') {
            table.back().emplace_back();
        } else if (c == '\r') {
            REQUIRE(i + 1 < text.size());
            REQUIRE(text[++i] == '\n');
            table.push_back({""});
        } else {
            REQUIRE(c != '\n');
            table.back().back() += c;
        }
    }
    REQUIRE(table.back() == std::vector<std::string>{""});  // the last line ended
    table.pop_back();
    return table;
}

std::size_t column(const Table& table, const std::string& name) {
    for (std::size_t c = 0; c < table.front().size(); ++c) {
        if (table.front()[c] == name) return c;
    }
    FAIL("no column " << name);
    return 0;
}

Project with_stock(Project p, const std::string& name) {
    Stock stock;
    stock.name = name;
    stock.width_mm = 145.0;
    stock.thickness_mm = 38.0;
    p.stock = {stock};
    for (BoardAsked& board : p.boards) board.stock = 0;
    return p;
}

}  // namespace

TEST_CASE("the cut list has a row a board, then the extra pieces, all of one width") {
    Project p = with_stock(hexagon_planter(), "rail");
    p.courses = 2;
    PieceAsked foot;
    foot.name = "foot";
    foot.length_mm = 80.0;
    foot.count = 6;
    foot.right_saw_deg = -15.0;
    p.pieces = {foot};
    const Plan plan = make_plan(p);
    const Table table = parsed(cut_list_csv(plan));
    REQUIRE(table.size() == 8);
    for (const auto& row : table) CHECK(row.size() == table.front().size());
    for (std::size_t k = 0; k < 6; ++k) {
        const auto& row = table[k + 1];
        CHECK(row[column(table, "piece")] == std::to_string(k + 1));
        CHECK(row[column(table, "count")] == "2");
        CHECK(row[column(table, "stock")] == "rail");
        CHECK(row[column(table, "outside (mm)")] == show_number(rounded_to_step(plan.shown[k].outside_length_mm, 0.5), 6));
        CHECK(row[column(table, "inside (mm)")] == show_number(rounded_to_step(plan.shown[k].inside_length_mm, 0.5), 6));
    }
    CHECK(table[4][column(table, "left cut from square (deg)")] == "44.7");
    CHECK(table[4][column(table, "left joint")] == "mitre with 3");
    CHECK(table[5][column(table, "like")] == "3 turned upside down");
    CHECK(table[7][column(table, "piece")] == "foot");
    CHECK(table[7][column(table, "count")] == "6");
    CHECK(table[7][column(table, "long point (mm)")] == "80");
    CHECK(table[7][column(table, "left longer edge")] == "neither");
    CHECK(table[7][column(table, "right cut from square (deg)")] == "15");
    CHECK(table[7][column(table, "right longer edge")] == "inside");
}

TEST_CASE("inch jobs are listed as decimal inches of the rule's step") {
    Project p = door_casing();
    p.unit = Unit::inch;
    p.tools.rule_step_mm = 25.4 / 16.0;
    const Plan plan = make_plan(p);
    const Table table = parsed(cut_list_csv(plan));
    const double inches = std::stod(table[1][column(table, "outside (in)")]);
    CHECK_THAT(inches * 16.0, within_mm(std::round(inches * 16.0), 1e-9));
    CHECK_THAT(inches * 25.4, within_mm(plan.shown[0].outside_length_mm, 25.4 / 32.0 + 1e-9));
    CHECK(table[1][column(table, "left joint")] == "free end");
}

TEST_CASE("no cell can start a formula in a spreadsheet") {
    for (const std::string evil : {"=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "=HYPERLINK(\"x\",\"y\")", " =1",
                                   "\xEF\xBC\x9D"
                                   "1"}) {
        Project p = with_stock(hexagon_planter(), evil);
        PieceAsked piece;
        piece.name = evil;
        piece.length_mm = 80.0;
        p.pieces = {piece};
        const Table table = parsed(cut_list_csv(make_plan(p)));
        INFO(evil);
        for (const auto& row : table) {
            REQUIRE(row.size() == table.front().size());
            for (const std::string& cell : row) {
                if (cell.empty()) continue;
                CHECK(std::string("=+-@\t\r").find(cell.front()) == std::string::npos);
                CHECK(cell.rfind("\xEF\xBC\x9D", 0) == std::string::npos);
            }
        }
        CHECK(table.back()[0].front() == '\'');
    }
}

TEST_CASE("commas and quotes stay inside their cell") {
    const Table table = parsed(cut_list_csv(make_plan(with_stock(hexagon_planter(), "larch, \"best\""))));
    CHECK(table[1][column(table, "stock")] == "larch, \"best\"");
}

TEST_CASE("a plan that stopped has no cut list") {
    CHECK(cut_list_csv(Plan{}).empty());
}
