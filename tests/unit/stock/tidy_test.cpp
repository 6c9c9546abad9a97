#include "stock/tidy.hpp"

#include <algorithm>
#include <vector>

#include "stock/buying.hpp"
#include "support/catch.hpp"
#include "support/cut_check.hpp"
#include "support/random.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

double least_slack(const BuyingSection& section, const SectionBuy& buy) {
    double least = 1e300;
    for (const CutBar& bar : buy.bars) least = std::min(least, usable_mm(section, section.offers[bar.offer]) - bar.used_mm);
    return least;
}

}  // namespace

TEST_CASE("An order with fewer settings is no longer than the one it stands for and has the same pieces") {
    Random random(31);
    std::size_t calmer = 0;
    for (std::size_t i = 0; i < 200; ++i) {
        Strip strip;
        strip.width_mm = 90.0;
        strip.kerf_mm = 3.0;
        strip.turnings = {Turning::as_first, Turning::top_to_bottom, Turning::edge_for_edge, Turning::end_for_end};
        std::vector<StripPiece> kinds;
        const auto run = [&] { return static_cast<double>(static_cast<int>(random.index(5)) - 2) * 26.0; };
        for (std::size_t k = 0; k < 4; ++k) kinds.push_back({random.between(100.0, 400.0), run(), run(), 1});
        Sequence sequence;
        for (const std::size_t k : std::vector<std::size_t>{0, 1, 2, 3, 0, 2}) sequence.pieces.push_back({k, strip.turnings[random.index(4)]});
        sequence.used_mm = used_mm(strip, kinds, sequence.pieces);
        const Sequence tidied = with_fewer_settings(strip, kinds, sequence);
        CAPTURE(i);
        REQUIRE(tidied.used_mm <= sequence.used_mm + 1e-6);
        REQUIRE(used_mm(strip, kinds, tidied.pieces) == Approx(tidied.used_mm).epsilon(1e-12));
        const std::size_t before = setting_changes(kinds, sequence.pieces), after = setting_changes(kinds, tidied.pieces);
        REQUIRE(after <= before);
        calmer += after < before ? 1 : 0;
        const auto kinds_of = [](const Sequence& s) {
            std::vector<std::size_t> list;
            for (const PlacedPiece& p : s.pieces) list.push_back(p.kind);
            std::sort(list.begin(), list.end());
            return list;
        };
        REQUIRE(kinds_of(tidied) == kinds_of(sequence));
    }
    CHECK(calmer > 20);
}

TEST_CASE("Among plans of one price no board is filled to the millimetre where a like exchange loosens it") {
    // Four boards; A 1000 + C 999 would fill one to 1 mm, A 1000 + D 990 and B 995 + C 999 do not.
    BuyingSection section;
    section.strip.width_mm = 100.0;
    section.strip.kerf_mm = 0.0;
    section.pieces = {{1000.0, 0.0, 0.0, 1}, {995.0, 0.0, 0.0, 1}, {999.0, 0.0, 0.0, 1}, {990.0, 0.0, 0.0, 1}, {500.0, 0.0, 0.0, 1}};
    section.offers = {{2000.0, 10.0, {}, false}};
    const SectionBuy buy = buy_section(section);
    REQUIRE(buy.outcome == BuyingOutcome::cheapest);
    CHECK(buy.price == 30.0);
    CHECK(fault_of(section, buy) == "");
    CHECK(least_slack(section, buy) >= kTightMm);
    double longest = 0.0;
    for (const CutBar& bar : buy.bars) longest = std::max(longest, bar.left_over_mm);
    CHECK(longest == Approx(1500.0));
}

TEST_CASE("Of two plans of one price the one with fewer boards is taken, then the one with the longer rest") {
    BuyingSection section;
    section.strip.width_mm = 100.0;
    section.strip.kerf_mm = 0.0;
    section.pieces = {{900.0, 0.0, 0.0, 4}};
    section.offers = {{1000.0, 5.0, {}, false}, {2000.0, 10.0, {}, false}};
    const SectionBuy buy = buy_section(section);
    CHECK(buy.price == 20.0);
    CHECK(buy.bars.size() == 2);
    CHECK(buy.fewest_bars);
    section.pieces = {{400.0, 0.0, 0.0, 6}};
    section.offers = {{2000.0, 10.0, {}, false}};
    const SectionBuy longer = buy_section(section);
    REQUIRE(longer.bars.size() == 2);
    CHECK(std::max(longer.bars[0].left_over_mm, longer.bars[1].left_over_mm) == Approx(1600.0));
}

TEST_CASE("No piece is turned where turning gains nothing") {
    const double w = 40.0;
    const std::vector<Turning> all = {Turning::as_first, Turning::top_to_bottom, Turning::edge_for_edge, Turning::end_for_end};
    const Strip strip{w, 3.0, false, all};
    const std::vector<StripPiece> kinds = {{500.0, 20.0, -5.0, 1}, {300.0, 8.0, 8.0, 1}, {200.0, 0.0, 0.0, 1}, {400.0, 0.0, 0.0, 1}};
    const auto turnings_after = [&](const std::vector<PlacedPiece>& pieces) {
        const Sequence before{pieces, used_mm(strip, kinds, pieces)};
        const Sequence after = from_handier_end(strip, kinds, before);
        CHECK(used_mm(strip, kinds, after.pieces) == Approx(before.used_mm).margin(1e-9));
        CHECK(setting_changes(kinds, after.pieces) == setting_changes(kinds, pieces));
        std::vector<Turning> turnings;
        for (const PlacedPiece& piece : after.pieces) turnings.push_back(piece.turning);
        return turnings;
    };
    for (const Turning turning : all) {
        CHECK(turnings_after({{0, turning}}) == std::vector{Turning::as_first});                                   // alone on its board
        CHECK(turnings_after({{0, turning}, {3, turning}}) == std::vector{Turning::as_first, Turning::as_first});  // the whole bar turned back
    }
    // A parallelogram and a square piece turned round are as they were.
    CHECK(turnings_after({{0, Turning::as_first}, {1, Turning::end_for_end}, {3, Turning::edge_for_edge}}) ==
          std::vector{Turning::as_first, Turning::as_first, Turning::as_first});
    // What lies head to tail stays so, sooner round than over.
    CHECK(turnings_after({{0, Turning::top_to_bottom}, {0, Turning::edge_for_edge}}) == std::vector{Turning::end_for_end, Turning::as_first});
    // A short piece is sawn first, from a board long enough to hold, though that turns the others.
    const Sequence short_last{{{0, Turning::as_first}, {2, Turning::as_first}}, 0.0};
    CHECK(from_handier_end(strip, kinds, short_last).pieces.front().kind == 2);
    const Strip fixed{w, 3.0, false, {Turning::as_first}};
    CHECK(from_handier_end(fixed, kinds, short_last).pieces.front().kind == 0);
}
