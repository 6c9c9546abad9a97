#include "stock/buying.hpp"

#include "support/catch.hpp"

using namespace boardring;

TEST_CASE("Too few boards are proven too few, also where what there is costs nothing") {
    for (const std::size_t boards : {1U, 2U, 3U}) {
        BuyingSection section;
        section.strip.width_mm = 100.0;
        section.strip.kerf_mm = 3.0;
        section.pieces = {{900.0, 0.0, 0.0, 4}};
        section.offers = {{1000.0, {}, boards, true}};
        const SectionBuy buy = buy_section(section);
        CAPTURE(boards);
        CHECK(buy.outcome == BuyingOutcome::too_few);
        CHECK(buy.bars_missing == 4 - boards);
        CHECK(buy.too_few_proven);
    }
}
