// Readings that are out by a factor or by most of a turn: a nought too many, inches for millimetres, the angle outside the ring. They
// bend the fit of all readings into another shape, and are named all the same.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>

#include "outline/fit.hpp"
#include "outline/fit_judge.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random_network.hpp"

using namespace boardring;
using boardring_test::add_noise;
using boardring_test::cases;
using boardring_test::exact_network;
using boardring_test::Random;
using boardring_test::random_ring;

namespace {

double slipped(Random& random, const Observation& o) {
    if (o.kind == Observation::Kind::distance) {
        switch (random.index(4)) {
            case 0: return o.value * 10.0;
            case 1: return o.value / 10.0;
            case 2: return o.value * 25.4;
            default: return o.value / 25.4;
        }
    }
    // Whoever reads the turn of an inward corner writes "inward" with it.
    switch (random.index(o.value > 180.0 ? 2 : 3)) {
        case 0: return 360.0 - o.value;
        case 1: return 0.5 * o.value;
        default: return 180.0 - o.value;
    }
}

struct Counts {
    std::size_t rings = 0, among = 0, alone = 0, clear = 0, slip = 0;
};

// One ring with one gross slip.
void judge(Random& random, std::size_t diagonals, Counts& counts) {
    Network network = exact_network(random, random_ring(random, 4 + random.index(6)), diagonals);
    add_noise(random, network);
    const std::size_t wrong = random.index(network.observations.size());
    Observation& o = network.observations[wrong];
    const double right = o.value;
    do {
        o.value = right;
        o.value = slipped(random, o);
    } while (std::abs(o.value - right) < 40.0 * o.sigma);  // half of 360 less 179 is no slip worth the name
    const Judgement judged = judge_fit(network, fit_network(network), {LengthStyle{Unit::mm, 1.0}, {}});
    ++counts.rings;
    bool among = false;
    for (std::size_t s = 0; s < judged.tied; ++s) among = among || judged.suspects[s].observation == wrong;
    counts.among += among ? 1 : 0;
    const bool alone = judged.tied == 1 && among;
    counts.alone += alone ? 1 : 0;
    if (!alone) return;
    const ReadingSuspect& s = judged.suspects.front();
    const double sd = std::hypot(s.would_be_sd, o.sigma);
    CHECK(std::abs(s.would_be - right) <= 6.0 * sd);
    if (std::abs(o.value - right) < 3.0 * sd) return;  // no slip explains what may be no slip
    ++counts.clear;
    const auto meant = [&](const FittingSlip& slip) { return std::abs(slip.meant - right) <= 6.0 * o.sigma; };
    if (std::any_of(s.slips.begin(), s.slips.end(), meant)) ++counts.slip;
}

}  // namespace

TEST_CASE("a reading out by a factor or by most of a turn is named, with the slip behind it", "[property]") {
    Random random(77);
    for (const std::size_t diagonals : {1U, 2U, 5U}) {
        Counts counts;
        for (std::size_t round = 0; round < cases(200, 5'000); ++round) judge(random, diagonals, counts);
        const auto share = [](std::size_t n, std::size_t of) { return static_cast<double>(n) / static_cast<double>(of); };
        INFO(diagonals << " diagonals, " << counts.rings << " rings: among the suspects " << counts.among << ", alone " << counts.alone << ", slip "
                       << counts.slip << " of " << counts.clear);
        CHECK(share(counts.among, counts.rings) >= 0.99);
        CHECK(share(counts.alone, counts.rings) >= (diagonals == 1 ? 0.9 : 0.97));
        // A slip is told within two standard deviations, 95.45 % of them; and three of the rate's own.
        const double two_sd = 0.9545, luck = 3.0 * std::sqrt(two_sd * (1.0 - two_sd) / static_cast<double>(counts.clear));
        CHECK(share(counts.slip, counts.clear) >= two_sd - luck);
    }
}
