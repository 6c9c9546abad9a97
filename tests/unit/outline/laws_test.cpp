#include "outline/laws.hpp"

#include <cmath>

#include "support/catch.hpp"

using namespace boardring;

TEST_CASE("the limits of the normal law are those of the printed tables", "[laws]") {
    // Common statistical tables (from memory): two-sided limits.
    CHECK_THAT(limit_outside(0.05), WithinAbs(1.959963984540054, 1e-12));
    CHECK_THAT(limit_outside(0.01), WithinAbs(2.5758293035489004, 1e-12));
    CHECK_THAT(limit_outside(0.001), WithinAbs(3.2905267314919255, 1e-12));
    CHECK_THAT(limit_outside(0.40), WithinAbs(0.8416212335729143, 1e-12));
    for (const double chance : {0.9, 0.5, 1e-3, 1e-6, 1e-12})
        CHECK_THAT(chance_outside(limit_outside(chance)) / chance, WithinAbs(1.0, 1e-9));
}

TEST_CASE("the limits of chi-square are those of the printed tables", "[laws]") {
    // Common statistical tables (from memory), three decimals.
    CHECK_THAT(chance_above(3.841, 1), WithinAbs(0.05, 2e-5));
    CHECK_THAT(chance_above(5.991, 2), WithinAbs(0.05, 2e-5));
    CHECK_THAT(chance_above(18.307, 10), WithinAbs(0.05, 2e-5));
    CHECK_THAT(chance_above(124.342, 100), WithinAbs(0.05, 2e-5));
    CHECK_THAT(chance_above(6.635, 1), WithinAbs(0.01, 1e-5));
    // One degree of freedom is the squared normal number; two are exponential.
    for (const double w : {0.1, 1.0, 2.5, 6.0}) CHECK_THAT(chance_above(w * w, 1), WithinAbs(chance_outside(w), 1e-13));
    for (const double x : {0.2, 1.0, 3.0, 30.0}) CHECK_THAT(chance_above(x, 2), WithinAbs(std::exp(-0.5 * x), 1e-13));
    CHECK(chance_above(0.0, 3) == 1.0);
}
