#include "stock/listed_patterns.hpp"

#include <algorithm>
#include <utility>
#include <vector>

#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

TEST_CASE("Of listed patterns the one worth most is found for every bar, by as many steps as there are numbers to look at") {
    Random random(66);
    std::size_t found_any = 0, none = 0;
    for (std::size_t i = 0; i < 300; ++i) {
        Strip strip;
        strip.width_mm = random.between(20.0, 120.0);
        strip.kerf_mm = 3.0;
        strip.turnings = {Turning::as_first, Turning::end_for_end};
        std::vector<StripPiece> kinds;
        std::vector<std::int64_t> value;
        Counts listed, most;
        for (std::size_t k = 0; k < 2 + random.index(3); ++k) {
            const auto run = [&] { return random.chance(0.3) ? 0.0 : random.between(-1.0, 1.0) * strip.width_mm; };
            kinds.push_back({random.between(100.0, 500.0), run(), run(), 1});
            value.push_back(static_cast<std::int64_t>(random.index(1000)));
            listed.push_back(static_cast<int>(random.index(4)));
            most.push_back(static_cast<int>(random.index(4)));
        }
        std::vector<BarKind> bars;
        for (std::size_t b = 0; b < 1 + random.index(3); ++b) bars.push_back({random.between(300.0, 1500.0), 1, 1});
        auto table = SequenceTable::build(strip, kinds, listed, 1e9, 100'000);
        REQUIRE(table);
        std::vector<std::int64_t> truth(bars.size(), 0), more_than;
        for (std::size_t b = 0; b < bars.size(); ++b) {
            for (std::size_t set = 0; set < table->size(); ++set) {
                std::int64_t worth = 0;
                bool allowed = table->used_mm(set) <= bars[b].usable_mm + kFitMm;
                for (std::size_t k = 0; k < kinds.size(); ++k) {
                    worth += value[k] * table->counts(set)[k];
                    allowed = allowed && table->counts(set)[k] <= most[k];
                }
                if (allowed) truth[b] = std::max(truth[b], worth);
            }
            more_than.push_back(random.chance(0.3) ? truth[b] : std::max<std::int64_t>(truth[b] - 1, 0));
        }
        const std::uint64_t steps = table->size() * kinds.size();
        ListedPatterns patterns(*table, bars);
        StepBudget budget{steps + 1, {}};
        const auto found = patterns.best(value, more_than, most, budget);
        CHECK_FALSE(budget.spent);
        CHECK(budget.steps_left == 1);
        for (std::size_t b = 0; b < bars.size(); ++b) {
            CAPTURE(i, b, truth[b], more_than[b]);
            REQUIRE(found[b].has_value() == (truth[b] > more_than[b]));
            none += found[b] ? 0U : 1U;
            if (!found[b]) continue;
            ++found_any;
            CHECK(found[b]->value == truth[b]);
            std::int64_t worth = 0;
            for (std::size_t k = 0; k < kinds.size(); ++k) worth += value[k] * found[b]->counts[k];
            CHECK(worth == truth[b]);
            CHECK(patterns.fits(b, found[b]->counts));
        }
        StepBudget too_little{steps, {}};
        for (const auto& pattern : patterns.best(value, std::vector<std::int64_t>(bars.size(), 0), most, too_little)) CHECK_FALSE(pattern);
        CHECK(too_little.spent);
    }
    CHECK(found_any > 100);
    CHECK(none > 50);
}
