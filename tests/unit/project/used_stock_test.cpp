#include "project/used_stock.hpp"

#include "support/catch.hpp"

using namespace boardring;

TEST_CASE("a stock is used by a board, by the pile or by another piece", "[unit][project]") {
    Project project;
    project.stock.resize(5);
    CHECK(used_stock(project) == std::vector<bool>(5, false));
    project.boards.resize(2);
    project.boards[1].stock = 3;
    project.pile.resize(1);
    project.pile[0].board.stock = 0;
    project.pieces.resize(1);
    project.pieces[0].stock = 4;
    CHECK(used_stock(project) == std::vector<bool>{true, false, false, true, true});
}
