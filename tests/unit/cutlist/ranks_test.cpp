#include "cutlist/ranks.hpp"

#include <vector>

#include "support/catch.hpp"

using boardring::Ranks;

TEST_CASE("values part where the gap exceeds the tolerance", "[unit][cutlist]") {
    const Ranks ranks({3.0, 1.0, 1.00005, 2.0, 1.0001}, 1e-4);
    CHECK(ranks.lowest() == std::vector<double>{1.0, 2.0, 3.0});
    CHECK(ranks.of(1.0) == 0);
    CHECK(ranks.of(1.0001) == 0);  // a chain of near values is one run
    CHECK(ranks.of(2.0) == 1);
    CHECK(ranks.of(3.0) == 2);
}

TEST_CASE("a gap of exactly the tolerance does not part", "[unit][cutlist]") {
    CHECK(Ranks({0.0, 0.5}, 0.5).lowest().size() == 1);
    CHECK(Ranks({0.0, 0.75}, 0.5).lowest().size() == 2);
}

TEST_CASE("no values make no runs, and foreign values fall to the run below", "[unit][cutlist]") {
    CHECK(Ranks({}, 1.0).lowest().empty());
    CHECK(Ranks({}, 1.0).of(7.0) == 0);
    const Ranks ranks({1.0, 5.0}, 1.0);
    CHECK(ranks.of(-3.0) == 0);
    CHECK(ranks.of(4.9) == 0);
    CHECK(ranks.of(9.0) == 1);
}
