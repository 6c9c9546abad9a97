#include "report/sawing_drawing.hpp"

#include <string>

#include "plan/plan.hpp"
#include "report/buying_text.hpp"
#include "report/shopping_list.hpp"
#include "report/wording.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"
#include "unit/report/drawing_checks.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

Project shelves(Unit unit, std::size_t kinds, double shortest_mm, std::uint64_t seed) {
    Random random(seed);
    Project project;
    project.title = "Shelves for the long wall";
    project.unit = unit;
    project.tools.rule_step_mm = unit == Unit::mm ? 0.5 : 25.4 / 16.0;
    Stock stock;
    stock.name = "shelf";
    stock.width_mm = 145.0;
    stock.thickness_mm = 28.0;
    stock.lengths = {{2438.4, 11.5, {}, false}, {3657.6, 16.9, {}, false}, {5486.4, 31.0, 2, true}};
    project.stock = {stock};
    for (std::size_t k = 0; k < kinds; ++k) {
        PieceAsked piece;
        piece.name = "shelf of the bay number " + std::to_string(k + 1);
        piece.length_mm = random.between(shortest_mm, 900.0);
        piece.count = 1 + random.index(6);
        piece.left_saw_deg = random.chance(0.5) ? 0.0 : random.between(-45.0, 45.0);
        piece.right_saw_deg = random.chance(0.5) ? 22.5 : 45.0;
        project.pieces.push_back(piece);
    }
    return project;
}

}  // namespace

TEST_CASE("Every long board's drawing keeps its labels apart and on the page, and tells every piece's marks") {
    for (const Unit unit : {Unit::mm, Unit::inch, Unit::foot}) {
        for (std::uint64_t seed = 1; seed <= 6; ++seed) {
            const Plan plan = make_plan(shelves(unit, 5, seed % 2 == 0 ? 120.0 : 400.0, seed));
            REQUIRE(plan.buying);
            const auto boards = sawn_boards(*plan.buying);
            REQUIRE_FALSE(boards.empty());
            std::size_t drawn = 0;
            for (const SawnBoards& some : boards) {
                const Drawing drawing = draw_sawing(some, {&plan.project});
                CAPTURE(unit_words(unit), seed, some.numbers.front());
                REQUIRE(overlapping_labels(drawing) == "");
                REQUIRE(label_off_page(drawing) == "");
                REQUIRE(mark_off_page(drawing) == "");
                REQUIRE(smallest_text_mm(drawing) >= 2.5 - 1e-9);
                REQUIRE((drawing.page_high.x - drawing.page_low.x) / drawing.scale <= 254.0 + 1e-9);
                REQUIRE((drawing.page_high.y - drawing.page_low.y) / drawing.scale <= 190.0 + 1e-9);
                for (const SawnPiece& piece : sawn_pieces(some, {&plan.project})) {
                    REQUIRE(count_labels(drawing, piece.left_far) >= 1);
                    REQUIRE(count_labels(drawing, piece.right_near) >= 1);
                    REQUIRE(count_labels(drawing, piece.right_saw) >= 1);
                }
                drawn += some.numbers.size();
            }
            REQUIRE(drawn == plan.buying->sections[0].buy.bars.size());
        }
    }
}

TEST_CASE("The purchase as text keeps within the page, and its list adds up") {
    for (const Unit unit : {Unit::mm, Unit::inch, Unit::foot}) {
        const Plan plan = make_plan(shelves(unit, 6, 300.0, 9));
        const std::string page = buying_page(*plan.buying, {&plan.project});
        for (std::size_t at = 0; at < page.size();) {
            const std::size_t end = page.find('\n', at);
            INFO(page.substr(at, end - at));
            REQUIRE(columns_of(page.substr(at, end - at)) <= kPageColumns);
            at = end + 1;
        }
        double price = 0.0;
        std::size_t boards = 0;
        for (const ShoppingRow& row : shopping_rows(*plan.buying)) {
            price += plan.buying->sections[0].section.offers[row.offer].price.value_or(0.0) * static_cast<double>(row.count);
            REQUIRE(row.left_over_mm.size() == row.count);
            boards += row.count;
        }
        CHECK(price == Approx(plan.buying->sections[0].buy.price));
        CHECK(boards == plan.buying->sections[0].buy.bars.size());
        CHECK(page.find("in all") != std::string::npos);
    }
}
