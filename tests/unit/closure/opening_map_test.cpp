#include "closure/opening_map.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;

namespace {

std::vector<OpeningColumns> random_columns(boardring_test::Random& random) {
    std::vector<OpeningColumns> columns(3 + random.index(10));
    for (OpeningColumns& c : columns) {
        for (Twist* a : {&c.gap_in, &c.gap_out, &c.lip_in}) *a = {random.between(-1, 1), random.between(-1, 1), random.between(-0.02, 0.02)};
    }
    return columns;
}

double along(const Twist& row, const Twist& motion) { return row[0] * motion[0] + row[1] * motion[1] + row[2] * motion[2]; }

double largest(const std::vector<Opening>& openings) {
    double most = 0.0;
    for (const Opening& x : openings) most = std::max({most, x.gap_in, x.gap_out, std::abs(x.lip_in)});
    return most;
}

}  // namespace

TEST_CASE("the map times the motion is the openings, and nearby motions follow it") {
    boardring_test::Random random(41);
    int seen = 0, nearby = 0;
    for (int i = 0; i < 300; ++i) {
        const std::vector<OpeningColumns> columns = random_columns(random);
        const Twist wanted{random.between(-3.0, 3.0), random.between(-3.0, 3.0), random.between(-0.1, 0.1)};
        const auto map = opening_map(columns, wanted);
        if (!map) continue;
        ++seen;
        const double most = largest(map->openings);
        Twist moved = wanted;
        for (double& x : moved) x *= 1.0 + random.between(-1e-3, 1e-3);
        const LeastOpening there = least_opening(columns, moved);
        bool same = there.met;
        for (std::size_t c = 0; c < columns.size(); ++c) {
            same = same && (there.openings[c].gap_in > 0.0) == (map->open[2 * c] != 0) && (there.openings[c].gap_out > 0.0) == (map->open[2 * c + 1] != 0);
        }
        for (std::size_t c = 0; c < columns.size(); ++c) {
            REQUIRE(std::abs(along(map->joints[c].gap_in, wanted) - map->openings[c].gap_in) <= 1e-8 * most);
            REQUIRE(std::abs(along(map->joints[c].gap_out, wanted) - map->openings[c].gap_out) <= 1e-8 * most);
            REQUIRE(std::abs(along(map->joints[c].lip_in, wanted) - map->openings[c].lip_in) <= 1e-8 * most);
            if (!same) continue;
            REQUIRE(std::abs(along(map->joints[c].gap_in, moved) - there.openings[c].gap_in) <= 1e-8 * most);
            REQUIRE(std::abs(along(map->joints[c].gap_out, moved) - there.openings[c].gap_out) <= 1e-8 * most);
            REQUIRE(std::abs(along(map->joints[c].lip_in, moved) - there.openings[c].lip_in) <= 1e-8 * most);
        }
        nearby += same ? 1 : 0;
    }
    CHECK(seen > 200);
    CHECK(nearby > seen / 2);
}

TEST_CASE("without a motion no gap is open, so there is no map") {
    boardring_test::Random random(42);
    CHECK(!opening_map(random_columns(random), {0.0, 0.0, 0.0}));
}
