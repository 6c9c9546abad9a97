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

TEST_CASE("Prices count to six decimals: what differs further back is one price") {
    // At six decimals both cost 1.234567, and of one price the board that leaves less is bought; at five they would be one as well, but
    // 1.234568 is dearer than 1.234567.
    BuyingSection section;
    section.strip.width_mm = 100.0;
    section.strip.kerf_mm = 3.0;
    section.pieces = {{900.0, 0.0, 0.0, 1}};
    const auto bought_mm = [&](double short_price, double long_price) {
        section.offers = {{1000.0, short_price, {}, false}, {2000.0, long_price, {}, false}};
        const SectionBuy buy = buy_section(section);
        REQUIRE(buy.bars.size() == 1);
        return section.offers[buy.bars.front().offer].length_mm;
    };
    const double of_one_price = bought_mm(1.234567, 1.234567);
    CHECK(bought_mm(1.2345674, 1.2345671) == of_one_price);
    CHECK(bought_mm(1.2345671, 1.2345674) == of_one_price);
    CHECK(bought_mm(1.234568, 1.234567) == 2000.0);
    CHECK(bought_mm(1.234567, 1.234568) == 1000.0);
}

TEST_CASE("In any money the same boards are bought, and proven as well") {
    // 2.4 m at 7 beside 3.6 m at 10: whole amounts up to a million millions of them, which leave little room for fractions in 64 bits.
    BuyingSection section;
    section.strip.width_mm = 100.0;
    section.strip.kerf_mm = 3.0;
    section.pieces = {{1150.0, 0.0, 0.0, 5}, {700.0, 0.0, 0.0, 9}, {430.0, 0.0, 0.0, 8}};
    const auto bought = [&](double money) {
        section.offers = {{2400.0, 7.0 * money, {}, false}, {3600.0, 10.0 * money, {}, false}};
        return buy_section(section);
    };
    const SectionBuy plain = bought(1.0);
    REQUIRE(plain.outcome == BuyingOutcome::cheapest);
    for (const double money : {1e3, 1e6, 1e9, 1e11, 1e12}) {
        CAPTURE(money);
        const SectionBuy dear = bought(money);
        CHECK(dear.outcome == BuyingOutcome::cheapest);
        CHECK(dear.price == money * plain.price);
        CHECK(dear.bound == dear.price);
        REQUIRE(dear.bars.size() == plain.bars.size());
    }
    // Too many to be proven by trying all: worths that run over show.
    for (StripPiece& piece : section.pieces) piece.count *= 20;
    const SectionBuy many = bought(1.0);
    REQUIRE(many.outcome == BuyingOutcome::cheapest);
    for (const double money : {1e9, 1e11}) {
        CAPTURE(money);
        const SectionBuy dear = bought(money);
        CHECK(dear.outcome == BuyingOutcome::cheapest);
        CHECK(dear.price == money * many.price);
    }
    for (StripPiece& piece : section.pieces) piece.count /= 20;
    // A file with a price of a million and six decimals made the program crash: the linear programme found no optimum, and the search went
    // on without a bound. 4 x 1000000.2 + 700000.123457, by the same boards as 10 and 7.
    section.offers = {{2400.0, 700000.123457, {}, false}, {3600.0, 1000000.2, {}, false}};
    const SectionBuy crashed = buy_section(section);
    CHECK_THAT(crashed.price, WithinAbs(4700000.923457, 1e-6));
    CHECK(crashed.bound <= crashed.price);
    CHECK(crashed.bound > crashed.price - 1.0);
}

TEST_CASE("Of prices that are rounded, the bound gives way by half the last decimal for every board") {
    // So little work that nothing is proven; at six decimals both lists of prices are one, so the plans are, and their bounds are a
    // known bit apart: a board for every piece at the most, half a millionth each.
    BuyingSection section;
    section.strip.width_mm = 100.0;
    section.strip.kerf_mm = 3.0;
    section.pieces = {{1150.0, 0.0, 0.0, 97}, {713.0, 0.0, 0.0, 181}, {431.0, 0.0, 0.0, 162}, {397.0, 0.0, 0.0, 53}};
    BuyingLimits limits;
    limits.steps = 100'000;
    section.offers = {{2400.0, 7.123456, {}, false}, {3600.0, 10.654321, {}, false}};
    const SectionBuy plain = buy_section(section, limits);
    section.offers = {{2400.0, 7.1234564, {}, false}, {3600.0, 10.6543208, {}, false}};
    const SectionBuy rounded = buy_section(section, limits);
    REQUIRE(plain.outcome == BuyingOutcome::bounded);
    REQUIRE(rounded.outcome == BuyingOutcome::bounded);
    CHECK(plain.bound < plain.price);
    CHECK_THAT(rounded.bound, WithinAbs(plain.bound - 0.5e-6 * (97 + 181 + 162 + 53), 1e-9));
}
