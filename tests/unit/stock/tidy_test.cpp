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
