#include "outline/walked_miss.hpp"

#include <cstddef>
#include <vector>

#include "support/catch.hpp"
#include "support/random_network.hpp"

using namespace boardring;
using boardring_test::exact_network;
using boardring_test::Random;
using boardring_test::random_ring;

TEST_CASE("a wrong side alone moves the end of the walk along itself, by its error", "[walked_miss]") {
    Random random(321);
    for (int round = 0; round < 200; ++round) {
        const std::size_t n = 4 + random.index(7);
        Network network = exact_network(random, random_ring(random, n), 0);
        const std::size_t wrong = random.index(n);
        network.observations[wrong].value += 60.0;
        const auto miss = walked_miss(network, wrong);
        REQUIRE(miss);
        CHECK_THAT(miss->length_mm, within_mm(60.0, 1e-8));
        CHECK_THAT(miss->off, WithinAbs(0.0, 1e-8));
    }
}

TEST_CASE("a wrong corner alone lies on the middle line of the miss", "[walked_miss]") {
    Random random(322);
    for (int round = 0; round < 200; ++round) {
        const std::size_t n = 4 + random.index(7);
        const std::vector<Vec2> ring = random_ring(random, n);
        Network network = exact_network(random, ring, 0);
        const std::size_t wrong = random.index(n);
        network.observations[n + wrong].value += 7.0;
        const auto miss = walked_miss(network, n + wrong);
        REQUIRE(miss);
        // The chord of a turn by 7 degrees about the corner.
        const double arm = length(ring[(wrong + n / 2) % n] - ring[wrong]);
        CHECK_THAT(miss->length_mm, within_mm(2.0 * arm * sin_deg(3.5), 1e-7));
        CHECK_THAT(miss->off, WithinAbs(0.0, 1e-6));
        CHECK((n < 5 || miss->nearest));
    }
}

TEST_CASE("other readings leave the walk out of it", "[walked_miss]") {
    Random random(323);
    const std::vector<Vec2> ring = random_ring(random, 6);
    CHECK_FALSE(walked_miss(exact_network(random, ring, 1), 0));
    Network twice = exact_network(random, ring, 0);
    twice.observations[3] = twice.observations[2];
    CHECK_FALSE(walked_miss(twice, 0));
    Network open = exact_network(random, ring, 0);
    open.closed = false;
    CHECK_FALSE(walked_miss(open, 0));
}
