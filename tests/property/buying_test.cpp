// Buying plans of small sections against exhaustive search, and the laws they obey.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>
#include <vector>

#include "stock/buying.hpp"
#include "support/catch.hpp"
#include "support/cut_check.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();

/// One oriented piece by its four corners along the bar, the leftmost point of its middle line at 0.
struct Shape {
    double left_upper, left_lower, right_upper, right_lower;
};

std::vector<Shape> shapes_of(const BuyingSection& section, const StripPiece& piece) {
    std::vector<Shape> shapes;
    for (const Turning turning : section.strip.turnings) {
        const double half_left = piece.left_run_mm / 2.0;
        const double half_right = piece.right_run_mm / 2.0;
        const Shape as_is{half_left, -half_left, piece.length_mm + half_right, piece.length_mm - half_right};
        Shape s = as_is;
        const bool ends_swap = turning == Turning::top_to_bottom || turning == Turning::end_for_end;
        const bool edges_swap = turning == Turning::edge_for_edge || turning == Turning::end_for_end;
        if (ends_swap) {
            s = {piece.length_mm - s.right_upper, piece.length_mm - s.right_lower, piece.length_mm - s.left_upper,
                 piece.length_mm - s.left_lower};
        }
        if (edges_swap) s = {s.left_lower, s.left_upper, s.right_lower, s.right_upper};
        shapes.push_back(s);
    }
    return shapes;
}

/// How far along the bar `next` has to start behind `before` so that either kerf clears both.
double shift(const BuyingSection& section, const Shape& before, const Shape& next) {
    const auto along = [&](double run) { return section.strip.kerf_mm * std::hypot(run, section.strip.width_mm) / section.strip.width_mm; };
    const double kerf = std::max(along(before.right_upper - before.right_lower), along(next.left_upper - next.left_lower));
    return std::max(before.right_upper - next.left_upper, before.right_lower - next.left_lower) + kerf;
}

/// Least bar length of every subset of single pieces, by going through all orders and turnings.
std::vector<double> least_lengths(const BuyingSection& section, const std::vector<StripPiece>& pieces) {
    const std::size_t n = pieces.size();
    const std::size_t turnings = section.strip.turnings.size();
    std::vector<std::vector<Shape>> shapes;
    for (const StripPiece& piece : pieces) shapes.push_back(shapes_of(section, piece));
    std::vector<double> least(std::size_t{1} << n, kNever);
    std::vector<double> start(least.size() * n * turnings, kNever);  // where the last piece's middle line starts
    const auto at = [&](std::size_t set, std::size_t piece, std::size_t t) -> double& { return start[(set * n + piece) * turnings + t]; };
    least[0] = 0.0;
    for (std::size_t set = 1; set < least.size(); ++set) {
        for (std::size_t p = 0; p < n; ++p) {
            if ((set >> p & 1U) == 0) continue;
            const std::size_t before = set & ~(std::size_t{1} << p);
            for (std::size_t t = 0; t < turnings; ++t) {
                const Shape& own = shapes[p][t];
                double& best = at(set, p, t);
                if (before == 0) best = -std::min(own.left_upper, own.left_lower);
                for (std::size_t q = 0; q < n; ++q) {
                    for (std::size_t u = 0; u < turnings && (before >> q & 1U) != 0; ++u) {
                        best = std::min(best, at(before, q, u) + shift(section, shapes[q][u], own));
                    }
                }
                least[set] = std::min(least[set], best + std::max(own.right_upper, own.right_lower));
            }
        }
    }
    return least;
}

/// Cheapest way to hold all pieces: every offer bar by bar, every subset on it.
double exhaustive_price(const BuyingSection& section) {
    std::vector<StripPiece> pieces;
    for (const StripPiece& piece : section.pieces) {
        for (std::size_t copy = 0; copy < piece.count; ++copy) pieces.push_back(piece);
    }
    const std::vector<double> least = least_lengths(section, pieces);
    std::vector<double> cheapest(least.size(), kNever);
    cheapest.at(0) = 0.0;
    for (const BarOffer& offer : section.offers) {
        const double usable = offer.length_mm - (offer.offcut ? 0.0 : 2.0 * section.end_trim_mm);
        const double price = offer.price.value_or(0.0);
        const std::size_t there = std::min(offer.count.value_or(pieces.size()), pieces.size());
        for (std::size_t copy = 0; copy < there; ++copy) {
            const std::vector<double> before = cheapest;
            for (std::size_t set = 1; set < least.size(); ++set) {
                for (std::size_t on_bar = set; on_bar != 0; on_bar = (on_bar - 1) & set) {
                    if (least[on_bar] > usable + 1e-6) continue;
                    cheapest[set] = std::min(cheapest[set], before[set & ~on_bar] + price);
                }
            }
        }
    }
    return cheapest.back();
}

const std::vector<std::vector<Turning>> kRules = {
    {Turning::as_first},
    {Turning::as_first, Turning::end_for_end},
    {Turning::as_first, Turning::top_to_bottom},
    {Turning::as_first, Turning::top_to_bottom, Turning::edge_for_edge, Turning::end_for_end},
};

BuyingSection random_section(Random& random, std::size_t most_pieces) {
    BuyingSection section;
    section.strip.width_mm = random.between(20.0, 150.0);
    section.strip.kerf_mm = random.chance(0.2) ? 0.0 : random.between(1.0, 4.0);
    section.strip.turnings = kRules[random.index(kRules.size())];
    section.end_trim_mm = random.chance(0.5) ? 0.0 : 20.0;
    const bool mitred = random.chance(0.7);
    const std::array<double, 4> degrees{0.0, 22.5, 45.0, 30.0};
    const auto run = [&] {
        const double tangent = std::tan(degrees[random.index(4)] * 3.141592653589793 / 180.0);
        return mitred ? (random.chance(0.5) ? 1.0 : -1.0) * section.strip.width_mm * tangent : 0.0;
    };
    std::size_t pieces = 0;
    while (pieces < most_pieces && (pieces == 0 || random.chance(0.9))) {
        StripPiece piece;
        piece.length_mm = random.chance(0.5) ? std::floor(random.between(200.0, 1500.0)) : random.between(200.0, 1500.0);
        piece.left_run_mm = run();
        piece.right_run_mm = run();
        piece.count = std::min(most_pieces - pieces, 1 + random.index(3));
        pieces += piece.count;
        section.pieces.push_back(piece);
    }
    const std::size_t offers = 1 + random.index(3);
    for (std::size_t o = 0; o < offers; ++o) {
        BarOffer offer;
        offer.length_mm = std::floor(random.between(1800.0, 4000.0));
        offer.price = std::floor(offer.length_mm * random.between(0.2, 0.5)) / 100.0;
        if (random.chance(o == 0 ? 0.1 : 0.4)) {
            offer.count = 1 + random.index(2);
            offer.offcut = random.chance(0.5);
            if (offer.offcut) offer.length_mm = std::floor(random.between(400.0, 1800.0));
            if (offer.offcut) offer.price.reset();
        }
        section.offers.push_back(offer);
    }
    return section;
}

/// Every bar's length and what is cut from it in which order, whatever the pieces and offers are numbered.
std::vector<std::vector<double>> contents_of(const BuyingSection& section) {
    std::vector<std::vector<double>> contents;
    for (const CutBar& bar : buy_section(section).bars) {
        contents.push_back({section.offers[bar.offer].length_mm});
        for (const PlacedPiece& piece : bar.pieces) {
            const StripEnds ends = turned_ends(section.pieces[piece.kind], piece.turning);
            contents.back().insert(contents.back().end(), {section.pieces[piece.kind].length_mm, ends.left_run_mm, ends.right_run_mm});
        }
    }
    return contents;
}

// What is bought for a section, beside what trying everything says; nothing where nothing can be had, which the plan must say as well.
std::optional<SectionBuy> bought(const BuyingSection& section, double truth, std::size_t most_listed) {
    BuyingLimits limits;
    limits.most_listed = most_listed;
    SectionBuy buy = buy_section(section, limits);
    CAPTURE(truth, buy.price, buy.bound);
    if (truth == kNever) {
        REQUIRE((buy.outcome == BuyingOutcome::too_long || buy.outcome == BuyingOutcome::too_few));
        return std::nullopt;
    }
    REQUIRE((buy.outcome == BuyingOutcome::cheapest || buy.outcome == BuyingOutcome::bounded));
    REQUIRE(fault_of(section, buy) == "");
    return buy;
}

}  // namespace

TEST_CASE("nothing called cheapest is ever beaten by exhaustive search, and plans are what they say") {
    Random random(20260406);
    std::size_t possible = 0;
    std::size_t proven = 0;
    std::size_t proven_by_knapsack = 0;
    const std::size_t n = cases(400, 2000);
    for (std::size_t i = 0; i < n; ++i) {
        const BuyingSection section = random_section(random, 2 + random.index(6));
        const double truth = exhaustive_price(section);
        if (truth < kNever) ++possible;
        for (const std::size_t most_listed : {std::size_t{60'000}, std::size_t{0}}) {
            INFO("case " << i << ", listed up to " << most_listed);
            const std::optional<SectionBuy> plan = bought(section, truth, most_listed);
            if (!plan) continue;
            const SectionBuy& buy = *plan;
            CAPTURE(truth, buy.price, buy.bound);
            REQUIRE(buy.price >= truth - 1e-9);
            REQUIRE(buy.bound <= truth + 1e-9);
            if (buy.outcome != BuyingOutcome::cheapest) continue;
            REQUIRE(std::abs(buy.price - truth) < 1e-9);
            if (most_listed > 0) ++proven;
            else ++proven_by_knapsack;
        }
    }
    CAPTURE(n, possible, proven, proven_by_knapsack);
    CHECK(possible < n);
    // Listed patterns are exact for every rule of turning; the knapsack's lengths may be too short where turning is restricted.
    CHECK(proven == possible);
    CHECK(10 * proven_by_knapsack >= 9 * possible);
}

TEST_CASE("more choice never costs more, more work never costs less, and the order of lines is nothing") {
    Random random(77);
    for (std::size_t i = 0; i < cases(100, 600); ++i) {
        const BuyingSection section = random_section(random, 2 + random.index(14));
        const SectionBuy buy = buy_section(section);
        if (buy.outcome != BuyingOutcome::cheapest) continue;
        INFO("case " << i);
        const auto price_of = [](const BuyingSection& changed) {
            const SectionBuy other = buy_section(changed);
            REQUIRE(other.outcome == BuyingOutcome::cheapest);
            REQUIRE(fault_of(changed, other) == "");
            return other.price;
        };
        BuyingSection longer = section;
        longer.offers.push_back({std::floor(random.between(1000.0, 5000.0)), std::floor(random.between(100.0, 3000.0)) / 100.0, {}, false});
        REQUIRE(price_of(longer) <= buy.price + 1e-9);
        BuyingSection at_home = section;
        at_home.offers.push_back({std::floor(random.between(300.0, 3000.0)), {}, 1 + random.index(2), true});
        REQUIRE(price_of(at_home) <= buy.price + 1e-9);
        BuyingSection cheaper = section;
        BarOffer& offer = cheaper.offers[random.index(cheaper.offers.size())];
        if (offer.price) offer.price = std::floor(*offer.price * 90.0) / 100.0;
        REQUIRE(price_of(cheaper) <= buy.price + 1e-9);
        BuyingSection freer = section;
        freer.strip.turnings = kRules.back();
        REQUIRE(price_of(freer) <= buy.price + 1e-9);
        BuyingSection fewer = section;
        --fewer.pieces[random.index(fewer.pieces.size())].count;
        REQUIRE(price_of(fewer) <= buy.price + 1e-9);
        BuyingSection reversed = section;
        std::reverse(reversed.pieces.begin(), reversed.pieces.end());
        std::reverse(reversed.offers.begin(), reversed.offers.end());
        REQUIRE(std::abs(price_of(reversed) - buy.price) < 1e-9);
        REQUIRE(contents_of(reversed) == contents_of(section));
        // Twice as large and three times as dear.
        BuyingSection scaled = section;
        scaled.strip.width_mm *= 2.0;
        scaled.strip.kerf_mm *= 2.0;
        scaled.end_trim_mm *= 2.0;
        for (StripPiece& piece : scaled.pieces) piece = {2.0 * piece.length_mm, 2.0 * piece.left_run_mm, 2.0 * piece.right_run_mm, piece.count};
        for (BarOffer& scaled_offer : scaled.offers) {
            scaled_offer.length_mm *= 2.0;
            if (scaled_offer.price) scaled_offer.price = 3.0 * *scaled_offer.price;
        }
        REQUIRE(std::abs(price_of(scaled) - 3.0 * buy.price) < 1e-9);
    }
}

namespace {

/// What random_section leaves out: prices that tie, cost nothing, have cents behind ten millions, or are not known; lengths that just hold
/// so many of a piece, and thirds of a mm; saw cuts longer than pieces; long boards that are counted beside short ones that are not.
BuyingSection awkward_section(Random& random, std::size_t most_pieces) {
    BuyingSection section = random_section(random, most_pieces);
    const double part = std::array<double, 4>{100.0, 25.4 / 16.0, 1.0 / 3.0, 250.0}[random.index(4)];
    section.strip.kerf_mm = std::array<double, 4>{0.0, 3.0, 3.2, random.between(50.0, 400.0)}[random.index(4)];
    section.end_trim_mm = random.chance(0.5) ? 0.0 : random.between(0.0, 300.0);
    for (StripPiece& piece : section.pieces) {
        const double least = (std::abs(piece.left_run_mm) + std::abs(piece.right_run_mm)) / 2.0;
        piece.length_mm = part * std::ceil(std::max(least + 1.0, random.chance(0.3) ? random.between(1.0, 100.0) : piece.length_mm) / part);
    }
    const std::size_t money = random.index(6);
    for (BarOffer& offer : section.offers) {
        offer.length_mm = part * std::ceil(offer.length_mm / part) + 2.0 * section.end_trim_mm;
        if (random.chance(0.4)) {
            const StripPiece& piece = section.pieces[random.index(section.pieces.size())];
            const auto times = static_cast<double>(1 + random.index(4));
            offer.length_mm = times * piece.length_mm + (times - 1.0) * section.strip.kerf_mm + 2.0 * section.end_trim_mm;
        }
        if (!offer.offcut) offer.price = std::array<double, 5>{10.0, std::floor(random.between(1.0, 4.0)), 0.1 * static_cast<double>(1 + random.index(30)), 0.01 * static_cast<double>(random.index(3000)),
                                                              1e7 + 0.01 * static_cast<double>(random.index(300))}[money % 5];
        if (money == 5) offer.price.reset();
    }
    return section;
}

/// The same with lengths for prices, where some price is not known.
BuyingSection priced_by_length(BuyingSection section) {
    if (std::all_of(section.offers.begin(), section.offers.end(), [](const BarOffer& o) { return o.offcut || o.price; })) return section;
    for (BarOffer& offer : section.offers) offer.price = offer.offcut ? 0.0 : offer.length_mm;
    return section;
}

}  // namespace

TEST_CASE("awkward prices, lengths and counts: never beaten, never a bound above the cheapest, never a plan where there is none") {
    Random random(20261130);
    std::size_t possible = 0, proven = 0;
    for (std::size_t i = 0; i < cases(400, 20000); ++i) {
        const BuyingSection section = awkward_section(random, 1 + random.index(6));
        const double truth = exhaustive_price(priced_by_length(section));
        for (const std::size_t most_listed : {std::size_t{60'000}, std::size_t{0}}) {
            INFO("case " << i << ", listed up to " << most_listed);
            const std::optional<SectionBuy> plan = bought(section, truth, most_listed);
            if (!plan) continue;
            const SectionBuy& buy = *plan;
            CAPTURE(truth, buy.price, buy.bound);
            // Lengths that stand for prices are rounded to a ten-thousandth; dust of sums of prices of ten millions.
            const double dust = buy.by_length ? 1e-4 * 6.0 : 1e-15 * std::max(1e6, truth);
            CHECK(buy.price >= truth - dust);
            CHECK(buy.bound <= truth + dust);
            if (buy.outcome == BuyingOutcome::cheapest) CHECK(buy.price <= truth + dust);
            possible += 1;
            proven += buy.outcome == BuyingOutcome::cheapest ? 1U : 0U;
        }
    }
    CHECK(possible > cases(400, 20000));
    CHECK(10 * proven >= 9 * possible);
}

TEST_CASE("long pieces that fit counted boards alone, beside short boards without end: a plan, or how many are missing") {
    // The greedy start may put short pieces on the two long boards; then the long pieces had nowhere to go, and the program stopped.
    BuyingSection section;
    section.strip = {38.0, 3.0, false, {Turning::as_first}};
    section.pieces = {{1800.0, 0.0, 0.0, 2}, {900.0, 0.0, 0.0, 4}};
    section.offers = {{2000.0, 5.0, 2, false}, {1000.0, 9.0, {}, false}};
    const SectionBuy enough = buy_section(section);
    CHECK(enough.outcome == BuyingOutcome::cheapest);
    CHECK(enough.price == 46.0);
    CHECK(fault_of(section, enough) == "");
    section.pieces[0].count = 3;
    const SectionBuy short_by_one = buy_section(section);
    CHECK(short_by_one.outcome == BuyingOutcome::too_few);
    CHECK(short_by_one.bars_missing == 1);
    CHECK(short_by_one.too_few_proven);
}

TEST_CASE("cents of a price of ten million count, and a length that stands for a price is told as it is") {
    BuyingSection section;
    section.strip = {38.0, 3.0, false, {Turning::as_first}};
    section.pieces = {{900.0, 0.0, 0.0, 1}};
    section.offers = {{1000.0, 10'000'000.00, {}, false}, {2000.0, 10'000'000.01, {}, false}};
    const SectionBuy dear = buy_section(section);  // once both were rounded to ten million
    CHECK(dear.price == 10'000'000.00);
    CHECK(section.offers[dear.bars.front().offer].length_mm == 1000.0);
    section.pieces = {{1900.0, 0.0, 0.0, 1}};
    CHECK_THAT(buy_section(section).price, WithinAbs(10'000'000.01, 1e-6));
    section.pieces = {{990.0, 0.0, 0.0, 2}};
    section.offers = {{1000.04, {}, {}, false}, {2000.05, {}, {}, false}};
    const SectionBuy longer = buy_section(section);  // 2000.05 is less than twice 1000.04, but not in tenths
    REQUIRE(longer.bars.size() == 1);
    CHECK(longer.by_length);
    CHECK_THAT(longer.price, WithinAbs(2000.05, 1e-9));
    CHECK(longer.bound == longer.price);
}
