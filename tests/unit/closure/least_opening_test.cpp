#include "closure/least_opening.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

double inner(const Twist& a, const Twist& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }

Twist random_twist(Random& random, const Twist& scale) {
    return {scale[0] * random.between(-1.0, 1.0), scale[1] * random.between(-1.0, 1.0), scale[2] * random.between(-1.0, 1.0)};
}

std::vector<OpeningColumns> random_columns(Random& random, std::size_t n, const Twist& scale) {
    std::vector<OpeningColumns> columns;
    for (std::size_t j = 0; j < n; ++j) {
        columns.push_back({random_twist(random, scale), random_twist(random, scale), random_twist(random, scale)});
    }
    return columns;
}

// Cramer's rule on A A' l = b.
std::optional<Twist> solve(const std::array<Twist, 3>& m, const Twist& b) {
    const auto det = [](const std::array<Twist, 3>& r) {
        return r[0][0] * (r[1][1] * r[2][2] - r[1][2] * r[2][1]) - r[0][1] * (r[1][0] * r[2][2] - r[1][2] * r[2][0]) +
               r[0][2] * (r[1][0] * r[2][1] - r[1][1] * r[2][0]);
    };
    const double whole = det(m);
    if (std::abs(whole) < 1e-12) return std::nullopt;
    Twist answer{};
    for (std::size_t i = 0; i < 3; ++i) {
        std::array<Twist, 3> swapped = m;
        for (std::size_t r = 0; r < 3; ++r) swapped[r][i] = b[r];
        answer[i] = det(swapped) / whole;
    }
    return answer;
}

// The plain way: for every set of gaps that may open, the smallest solution of the equations; of those without a negative gap
// the smallest.
std::optional<std::vector<double>> by_enumeration(const std::vector<OpeningColumns>& columns, const Twist& wanted) {
    const std::size_t gaps = 2 * columns.size();
    std::optional<std::vector<double>> best;
    double best_size = 0.0;
    for (std::size_t open = 0; open < (std::size_t{1} << gaps); ++open) {
        std::array<Twist, 3> square{};
        const auto use = [&square](const Twist& a) {
            for (std::size_t i = 0; i < 3; ++i) {
                for (std::size_t k = 0; k < 3; ++k) square[i][k] += a[i] * a[k];
            }
        };
        const auto is_open = [open](std::size_t gap) { return ((open >> gap) & 1U) != 0; };
        for (std::size_t j = 0; j < columns.size(); ++j) {
            if (is_open(2 * j)) use(columns[j].gap_in);
            if (is_open(2 * j + 1)) use(columns[j].gap_out);
            use(columns[j].lip_in);
        }
        const std::optional<Twist> l = solve(square, wanted);
        if (!l) continue;
        std::vector<double> x;
        double size = 0.0;
        bool fits = true;
        for (std::size_t j = 0; j < columns.size(); ++j) {
            x.push_back(is_open(2 * j) ? inner(columns[j].gap_in, *l) : 0.0);
            x.push_back(is_open(2 * j + 1) ? inner(columns[j].gap_out, *l) : 0.0);
            x.push_back(inner(columns[j].lip_in, *l));
            fits = fits && x[3 * j] >= -1e-12 && x[3 * j + 1] >= -1e-12;
        }
        for (const double v : x) size += v * v;
        if (fits && (!best || size < best_size)) {
            best = x;
            best_size = size;
        }
    }
    return best;
}

}  // namespace

TEST_CASE("the least openings are those that trying every set of open gaps finds") {
    Random random(11);
    for (int i = 0; i < 2000; ++i) {
        const std::size_t n = 2 + random.index(4);
        const Twist scale{1.0, 1.0, random.log_between(1e-3, 1e3)};
        const std::vector<OpeningColumns> columns = random_columns(random, n, scale);
        const Twist wanted = random_twist(random, scale);
        // Rows scaled to one size: the enumeration uses plain determinants.
        std::vector<OpeningColumns> even = columns;
        Twist even_wanted = wanted;
        for (std::size_t r = 0; r < 3; ++r) {
            for (OpeningColumns& c : even) {
                c.gap_in[r] /= scale[r];
                c.gap_out[r] /= scale[r];
                c.lip_in[r] /= scale[r];
            }
            even_wanted[r] /= scale[r];
        }
        const auto expected = by_enumeration(even, even_wanted);
        const LeastOpening found = least_opening(columns, wanted);
        INFO("case " << i << ", " << n << " joints, " << found.steps << " steps");
        if (!expected) {
            CHECK_FALSE(found.met);
            continue;
        }
        REQUIRE(found.met);
        double largest = 0.0;
        for (const double x : *expected) largest = std::max(largest, std::abs(x));
        for (std::size_t j = 0; j < n; ++j) {
            CHECK_THAT(found.openings[j].gap_in, WithinAbs((*expected)[3 * j], 1e-9 * largest));
            CHECK_THAT(found.openings[j].gap_out, WithinAbs((*expected)[3 * j + 1], 1e-9 * largest));
            CHECK_THAT(found.openings[j].lip_in, WithinAbs((*expected)[3 * j + 2], 1e-9 * largest));
        }
    }
}

TEST_CASE("every opening is what the columns say of the force, and gaps that would overlap stay shut") {
    Random random(12);
    for (int i = 0; i < 200; ++i) {
        const std::vector<OpeningColumns> columns = random_columns(random, 3 + random.index(300), {1.0, 1.0, 50.0});
        const LeastOpening found = least_opening(columns, random_twist(random, {1.0, 1.0, 50.0}));
        REQUIRE(found.met);
        CHECK(found.steps <= 12);
        double largest = 0.0;
        for (const Opening& x : found.openings) largest = std::max({largest, x.gap_in, x.gap_out, std::abs(x.lip_in)});
        for (std::size_t j = 0; j < columns.size(); ++j) {
            CHECK(found.openings[j].gap_in >= 0.0);
            CHECK(found.openings[j].gap_out >= 0.0);
            const double says = std::max(0.0, inner(columns[j].gap_in, found.force));
            CHECK_THAT(found.openings[j].gap_in, WithinAbs(says, 1e-12 * largest));
            CHECK_THAT(found.openings[j].lip_in, WithinAbs(inner(columns[j].lip_in, found.force), 1e-12 * largest));
        }
    }
}

TEST_CASE("twice the motion takes twice the openings, and no motion takes none") {
    Random random(13);
    const std::vector<OpeningColumns> columns = random_columns(random, 6, {1.0, 1.0, 1.0});
    const Twist wanted{0.3, -0.2, 0.1};
    const LeastOpening once = least_opening(columns, wanted);
    const LeastOpening twice = least_opening(columns, {0.6, -0.4, 0.2});
    const LeastOpening none = least_opening(columns, {0.0, 0.0, 0.0});
    CHECK(none.met);
    for (std::size_t j = 0; j < columns.size(); ++j) {
        CHECK_THAT(twice.openings[j].gap_in, WithinAbs(2.0 * once.openings[j].gap_in, 1e-14));
        CHECK_THAT(twice.openings[j].gap_out, WithinAbs(2.0 * once.openings[j].gap_out, 1e-14));
        CHECK_THAT(twice.openings[j].lip_in, WithinAbs(2.0 * once.openings[j].lip_in, 1e-14));
        CHECK(none.openings[j].gap_in == 0.0);
        CHECK(none.openings[j].lip_in == 0.0);
    }
}

TEST_CASE("a motion that no gap can make is said not to be met") {
    // All gaps push towards +y, all lips slide along x: nothing moves the end towards -y.
    std::vector<OpeningColumns> columns;
    for (const double a : {-1.0, 0.0, 1.0}) columns.push_back({{0.0, 1.0, a}, {0.0, 1.0, 2.0 * a}, {1.0, 0.0, 0.0}});
    CHECK(least_opening(columns, {0.0, 1.0, 0.0}).met);
    CHECK(least_opening(columns, {0.5, 1.0, 0.5}).met);
    CHECK_FALSE(least_opening(columns, {0.0, -1.0, 0.0}).met);
}

TEST_CASE("joints that cannot turn at all, and no joints, are met only by no motion") {
    std::vector<OpeningColumns> flat(3);
    for (OpeningColumns& c : flat) c = {{0.0, 1.0, 0.0}, {0.0, 2.0, 0.0}, {1.0, 0.0, 0.0}};
    CHECK_FALSE(least_opening(flat, {0.0, 1.0, 0.1}).met);
    CHECK(least_opening(flat, {0.0, 0.0, 0.0}).met);
    CHECK(least_opening({}, {0.0, 0.0, 0.0}).met);
    CHECK_FALSE(least_opening({}, {1.0, 0.0, 0.0}).met);
}
