#include "stock/best_sequence.hpp"

#include <algorithm>
#include <vector>

#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using namespace boardring_test;

TEST_CASE("A walk along the ends is never longer than the shortest order, and exact where all turnings are allowed and bars are sawn square") {
    Random random(21);
    const std::vector<std::vector<Turning>> rules = {
        {Turning::as_first},
        {Turning::as_first, Turning::end_for_end},
        {Turning::as_first, Turning::top_to_bottom},
        {Turning::as_first, Turning::top_to_bottom, Turning::edge_for_edge, Turning::end_for_end},
    };
    std::size_t exact = 0, walked = 0, shortest = 0;
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
        // The table of all multisets knows nothing of the line.
        const auto table = SequenceTable::build(strip, kinds, counts, 1e9, 1000);
        const double truth = table->used_mm(*table->find(counts));
        CAPTURE(i, truth);
        REQUIRE(line.least_mm(counts) <= truth + 1e-9);
        for (std::size_t points = 1; points < line.points(); ++points) {
            REQUIRE(line.with_fewer_points(points).points() == points);
            REQUIRE(line.with_fewer_points(points).least_mm(counts) <= line.least_mm(counts) + 1e-9);
        }
        REQUIRE(line.with_fewer_points(line.points() + 1).points() == line.points());
        if (const auto order = line.order(counts)) {
            std::vector<int> placed(kinds.size(), 0);
            for (const PlacedPiece& piece : order->pieces) ++placed[piece.kind];
            REQUIRE(placed == counts);
            REQUIRE(order->used_mm >= truth - 1e-9);
            if (truth > order->used_mm - 1e-9) ++shortest;
            ++walked;
        }
        REQUIRE(best_sequence(line, counts).sequence.used_mm == Approx(truth).epsilon(1e-12));
        for (const double usable : {truth, truth - 0.001}) {
            const Fit::Answer wanted = usable < truth ? Fit::Answer::too_long : Fit::Answer::fits;
            REQUIRE(fits_in(line, counts, usable, 1000).answer == wanted);
        }
        if (strip.turnings.size() == 4 && strip.kerf_at_ends) {
            REQUIRE(line.least_mm(counts) == Approx(truth).epsilon(1e-12));
            REQUIRE(line.order(counts)->used_mm == Approx(truth).epsilon(1e-12));  // the walk that is shortest is one that can be sawn
            ++exact;
        }
    }
    CHECK(exact > 50);
    CAPTURE(walked, shortest);
    CHECK(2 * shortest > walked);
}
