#include "closure/linear_bound.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

struct Linear {
    Miss base{};
    std::vector<Miss> change;
};

Linear random_linear(Random& random, std::size_t n, double far) {
    Linear p;
    for (double& b : p.base) b = random.between(-far, far);
    for (std::size_t i = 0; i < n; ++i) p.change.push_back({random.between(-1, 1), random.between(-1, 1), random.between(-1, 1)});
    return p;
}

double left_by(const Linear& p, const std::vector<double>& x) {
    Miss left = p.base;
    for (std::size_t i = 0; i < x.size(); ++i) {
        for (std::size_t r = 0; r < 3; ++r) left[r] += x[i] * p.change[i][r];
    }
    return widest_of(left);
}

}  // namespace

TEST_CASE("the linear bound is what the finest grid of choices between 0 and 1 comes down to") {
    Random random(71);
    constexpr int kGrid = 60;
    for (int i = 0; i < 40; ++i) {
        const Linear p = random_linear(random, 3, 2.5);
        double least = HUGE_VAL;
        for (int a = 0; a <= kGrid; ++a) {
            for (int b = 0; b <= kGrid; ++b) {
                for (int c = 0; c <= kGrid; ++c) least = std::min(least, left_by(p, {1.0 * a / kGrid, 1.0 * b / kGrid, 1.0 * c / kGrid}));
            }
        }
        const double bound = linear_bound_mm(p.base, p.change);
        CHECK(bound <= least + 1e-12);
        // Half a step of the grid in each of three choices, each of which moves a row by 1 at most.
        CHECK(bound >= least - 3.0 * 0.5 / kGrid);
    }
}

TEST_CASE("no choice leaves less than the bound, one row alone never says more, and it scales") {
    Random random(72);
    int left = 0;
    for (int i = 0; i < 60; ++i) {
        const Linear p = random_linear(random, 4 + random.index(20), 12.0);
        const double bound = linear_bound_mm(p.base, p.change);
        CHECK(bound <= widest_of(p.base) + 1e-12);
        left += bound > 0.0 ? 1 : 0;
        for (int tried = 0; tried < 200; ++tried) {
            std::vector<double> x;
            for (std::size_t k = 0; k < p.change.size(); ++k) x.push_back(random.chance(0.3) ? random.unit() : random.chance(0.5) ? 1.0 : 0.0);
            CHECK(left_by(p, x) >= bound - 1e-9);
        }
        for (std::size_t r = 0; r < 3; ++r) {
            double low = p.base[r], high = p.base[r];
            for (const Miss& c : p.change) (c[r] < 0.0 ? low : high) += c[r];
            CHECK(bound >= std::max(low, -high) - 1e-9);
        }
        Linear twice = p;
        for (double& b : twice.base) b *= 2.0;
        for (Miss& c : twice.change) c = {2.0 * c[0], 2.0 * c[1], 2.0 * c[2]};
        CHECK(std::abs(linear_bound_mm(twice.base, twice.change) - 2.0 * bound) < 1e-9);
    }
    CHECK(left > 20);
}

TEST_CASE("three rows together say more than each alone") {
    // One choice that lowers the first row and raises the second by as much: half of it is left in either.
    CHECK(std::abs(linear_bound_mm({1.0, 0.0, 0.0}, {{-1.0, 1.0, 0.0}}) - 0.5) < 1e-12);
    CHECK(linear_bound_mm({0.0, 0.0, 0.0}, {}) == 0.0);
    CHECK(linear_bound_mm({0.25, -0.5, 0.0}, {}) == 0.5);
}

TEST_CASE("where choices bring all to nothing but for rounding, nothing is the bound") {
    Random random(73);
    for (int i = 0; i < 200; ++i) {
        // In each row its own choices, all of them taken: the last bits of their sum are what is left.
        Linear p;
        for (std::size_t r = 0; r < 3; ++r) {
            for (int k = 0; k < 4; ++k) {
                Miss change{};
                change[r] = random.between(0.1, 1.0);
                p.base[r] -= change[r];
                p.change.push_back(change);
            }
        }
        std::rotate(p.change.begin(), p.change.begin() + static_cast<std::ptrdiff_t>(random.index(12)), p.change.end());
        CHECK(linear_bound_mm(p.base, p.change) == 0.0);
    }
}
