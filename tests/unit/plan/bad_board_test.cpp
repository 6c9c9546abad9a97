#include "plan/bad_board.hpp"

#include "support/catch.hpp"

using namespace boardring;

namespace {

Buying bought(const std::vector<BarOffer>& offers, const std::vector<StripPiece>& pieces) {
    Buying buying;
    SectionPurchase purchase;
    purchase.section.strip.width_mm = 100.0;
    purchase.section.strip.kerf_mm = 0.0;
    purchase.section.offers = offers;
    purchase.section.pieces = pieces;
    purchase.buy = buy_section(purchase.section);
    buying.sections.push_back(purchase);
    return buying;
}

}  // namespace

TEST_CASE("The board that would cost most to lose is named, one that nothing replaces before all others") {
    const Buying priced = bought({{1000.0, 5.0, {}, false}, {2000.0, 9.0, {}, false}}, {{1900.0, 0, 0, 1}, {900.0, 0, 0, 1}});
    const auto dearest = dearest_to_lose(priced);
    REQUIRE(dearest);
    CHECK(dearest->number == 1);
    CHECK(dearest->price == 9.0);
    const Buying last = bought({{1000.0, 5.0, {}, false}, {1500.0, {}, 1, true}}, {{1400.0, 0, 0, 1}, {900.0, 0, 0, 1}});
    const auto only = dearest_to_lose(last);
    REQUIRE(only);
    CHECK_FALSE(only->price);
    CHECK(last.sections[0].section.offers[last.sections[0].buy.bars[only->bar].offer].offcut);
    CHECK_FALSE(dearest_to_lose(Buying{}));
}
