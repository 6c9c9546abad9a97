#include "stock/best_sequence.hpp"

#include <algorithm>
#include <vector>

#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using namespace boardring_test;

TEST_CASE("The knapsack never takes a set of pieces for longer than it is, and where all turnings are allowed its length is exact") {
    Random random(21);
    const std::vector<std::vector<Turning>> rules = {
        {Turning::as_first},
        {Turning::as_first, Turning::end_for_end},
        {Turning::as_first, Turning::top_to_bottom},
        {Turning::as_first, Turning::top_to_bottom, Turning::edge_for_edge, Turning::end_for_end},
    };
    std::size_t exact = 0;
    for (std::size_t i = 0; i < 600; ++i) {
        Strip strip;
        strip.width_mm = random.between(20.0, 150.0);
        strip.kerf_mm = random.chance(0.2) ? 0.0 : random.between(1.0, 4.0);
        strip.kerf_at_ends = random.chance(0.5);
        strip.turnings = rules[i % rules.size()];
        const std::vector<double> slopes{0.0, random.between(0.1, 1.2), random.between(0.1, 1.2)};
        std::vector<StripPiece> kinds;
        const auto run = [&] { return (random.chance(0.5) ? 1.0 : -1.0) * slopes[random.index(3)] * strip.width_mm; };
        for (std::size_t k = 0; k < 3; ++k) kinds.push_back({random.between(100.0, 600.0), run(), run(), 1});
        Counts counts;
        for (std::size_t k = 0; k < 3; ++k) counts.push_back(static_cast<int>(random.index(3)));
        if (std::all_of(counts.begin(), counts.end(), [](int c) { return c == 0; })) continue;
        const EndLine line(strip, kinds);
        const double truth = best_sequence(strip, kinds, counts).sequence.used_mm;
        CAPTURE(i, truth);
        REQUIRE(line.least_mm(counts) <= truth + 1e-9);
        if (strip.turnings.size() == 4 && strip.kerf_at_ends) {
            REQUIRE(line.least_mm(counts) == Approx(truth).epsilon(1e-12));
            ++exact;
        }
    }
    CHECK(exact > 50);
}
