#include "stock/knapsack.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <vector>

#include "stock/sequence.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

const std::vector<std::vector<Turning>> kRules = {
    {Turning::as_first},
    {Turning::as_first, Turning::end_for_end},
    {Turning::as_first, Turning::top_to_bottom},
    {Turning::as_first, Turning::top_to_bottom, Turning::edge_for_edge, Turning::end_for_end},
};

struct Case {
    Strip strip;
    std::vector<StripPiece> kinds;
    std::vector<BarKind> bars;
    Counts most;
    std::vector<std::int64_t> value;
};

Case random_case(Random& random, bool square) {
    Case made;
    made.strip.width_mm = random.between(20.0, 120.0);
    made.strip.kerf_mm = random.chance(0.2) ? 0.0 : random.between(1.0, 4.0);
    made.strip.kerf_at_ends = random.chance(0.5);
    made.strip.turnings = kRules[random.index(kRules.size())];
    const std::vector<double> slopes{0.0, random.between(0.1, 1.2), random.between(0.1, 1.2)};
    const auto run = [&] { return square ? 0.0 : (random.chance(0.5) ? 1.0 : -1.0) * slopes[random.index(3)] * made.strip.width_mm; };
    for (std::size_t k = 0; k < 2 + random.index(3); ++k) {
        made.kinds.push_back({random.chance(0.5) ? std::floor(random.between(100.0, 600.0)) : random.between(100.0, 600.0), run(), run(), 1});
        made.most.push_back(static_cast<int>(random.index(4)));
        made.value.push_back(random.chance(0.1) ? 0 : static_cast<std::int64_t>(made.kinds.back().length_mm * random.between(0.5, 2.0)));
    }
    for (std::size_t b = 0; b < 1 + random.index(3); ++b) made.bars.push_back({random.between(500.0, 1600.0), 10, 10});
    return made;
}

std::int64_t worth_of(const Case& made, const std::uint16_t* counts) {
    std::int64_t worth = 0;
    for (std::size_t k = 0; k < made.kinds.size(); ++k) worth += made.value[k] * counts[k];
    return worth;
}

/// The pattern of greatest worth that truly fits a bar, from the table of all multisets, which knows nothing of walks.
std::int64_t greatest(const Case& made, const SequenceTable& table, double usable_mm) {
    std::int64_t best = 0;
    for (std::size_t set = 0; set < table.size(); ++set) {
        if (table.used_mm(set) <= usable_mm + kFitMm) best = std::max(best, worth_of(made, table.counts(set)));
    }
    return best;
}

}  // namespace

TEST_CASE("No pattern that fits is worth more than the one found; of square pieces it is the best there is") {
    Random random(62);
    std::size_t found_any = 0, none = 0, exact = 0, slanted = 0, walked = 0;
    for (std::size_t i = 0; i < 1500; ++i) {
        const bool square = i % 2 == 0;
        const Case made = random_case(random, square);
        const auto table = SequenceTable::build(made.strip, made.kinds, made.most, 1e9, 100'000);
        REQUIRE(table);
        Knapsack knapsack(made.strip, made.kinds, made.bars, 1'000'000);
        std::vector<std::int64_t> more_than;
        for (const BarKind& bar : made.bars) {
            const std::int64_t truth = greatest(made, *table, bar.usable_mm);
            // Often just what can be reached, or one less: nothing may be found for the first, and for the other something must.
            more_than.push_back(random.chance(0.3) ? truth : random.chance(0.5) ? std::max<std::int64_t>(truth - 1, 0) : truth / 2);
        }
        StepBudget budget{100'000'000, {}};
        const auto found = knapsack.best(made.value, more_than, made.most, budget);
        REQUIRE(found.size() == made.bars.size());
        for (std::size_t b = 0; b < made.bars.size(); ++b) {
            const std::int64_t truth = greatest(made, *table, made.bars[b].usable_mm);
            CAPTURE(i, b, truth, more_than[b]);
            if (!found[b]) {
                REQUIRE(truth <= more_than[b]);
                ++none;
                continue;
            }
            ++found_any;
            REQUIRE(found[b]->value > more_than[b]);
            REQUIRE(found[b]->value >= truth);
            std::int64_t worth = 0;
            for (std::size_t k = 0; k < made.kinds.size(); ++k) {
                REQUIRE(found[b]->counts[k] <= made.most[k]);
                worth += made.value[k] * found[b]->counts[k];
            }
            REQUIRE(worth == found[b]->value);
            const auto set = table->find(found[b]->counts);
            REQUIRE(set);
            const bool truly_fits = table->used_mm(*set) <= made.bars[b].usable_mm + kFitMm;
            REQUIRE(knapsack.fits(b, found[b]->counts) == truly_fits);
            // Three slopes give at most six ends; all turnings and bars sawn square leave nothing generous.
            const bool exact_walk = made.strip.turnings.size() == 4 && made.strip.kerf_at_ends;
            if (square || exact_walk) REQUIRE(truly_fits);
            walked += exact_walk && !square ? 1U : 0U;
            exact += !square && truly_fits ? 1U : 0U;
            slanted += square ? 0 : 1;
        }
    }
    CAPTURE(found_any, none, exact, slanted, walked);
    CHECK(walked > 100);
    CHECK(none > 300);
    CHECK(found_any > 1000);
    CHECK(4 * exact > 3 * slanted);  // generous lengths are seldom too generous
}

TEST_CASE("Pieces as long as the bar to a millionth of a millimetre fill it, whatever the decimals") {
    Strip strip;
    strip.width_mm = 50.0;
    for (const int pieces : {1, 3, 7, 40}) {
        for (const double bar_mm : {1000.0, 2000.0 / 3.0, 1219.2, 977.000049}) {
            const double length_mm = bar_mm / pieces;
            for (const double short_by_mm : {0.0, 0.9e-6}) {
                CAPTURE(pieces, bar_mm, short_by_mm);
                Knapsack knapsack(strip, {{length_mm, 0.0, 0.0, 1}}, {{bar_mm - short_by_mm, 1, 1}}, 1000);
                StepBudget budget{1'000'000, {}};
                const auto found = knapsack.best({1}, {0}, {pieces}, budget);
                REQUIRE(found.front());
                CHECK(found.front()->value == pieces);
                CHECK(knapsack.fits(0, {pieces}));
            }
        }
    }
    Knapsack knapsack(strip, {{500.0, 0.0, 0.0, 1}}, {{999.9998, 1, 1}}, 1000);
    StepBudget budget{1'000'000, {}};
    CHECK(knapsack.best({1}, {0}, {2}, budget).front()->value == 1);
    CHECK_FALSE(knapsack.fits(0, {2}));
}

TEST_CASE("What can no longer be worth enough is not looked at: the work of a large bar stays small") {
    // Thirty kinds of nearly one worth a millimetre; without the look ahead all sums of lengths would be written down.
    Random random(63);
    Strip strip;
    strip.width_mm = 50.0;
    std::vector<StripPiece> kinds;
    std::vector<std::int64_t> value;
    for (int k = 0; k < 30; ++k) {
        kinds.push_back({random.between(100.0, 300.0), 0.0, 0.0, 1});
        value.push_back(static_cast<std::int64_t>(1000.0 * kinds.back().length_mm * random.between(0.9, 1.1)));
    }
    Knapsack knapsack(strip, kinds, {{4000.0, 1, 1}}, 1000);
    StepBudget budget{1'000'000'000, {}};
    const auto found = knapsack.best(value, {0}, Counts(30, 4), budget);
    REQUIRE(found.front());
    const std::uint64_t steps = 1'000'000'000 - budget.steps_left;
    CAPTURE(steps);
    CHECK(steps < 400'000);
}
