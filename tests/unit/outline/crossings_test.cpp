#include "outline/crossings.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

// Whole-number twin of the segment test: no rounding at all, every pair.
struct Whole {
    std::int64_t x = 0, y = 0;
};
std::int64_t turn(Whole a, Whole b, Whole c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}
int sign(std::int64_t v) {
    return v > 0 ? 1 : v < 0 ? -1 : 0;
}
bool between(Whole a, Whole b, Whole p) {
    return std::min(a.x, b.x) <= p.x && p.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= p.y && p.y <= std::max(a.y, b.y);
}
bool share_a_point(Whole a, Whole b, Whole c, Whole d) {
    const int abc = sign(turn(a, b, c)), abd = sign(turn(a, b, d)), cda = sign(turn(c, d, a)), cdb = sign(turn(c, d, b));
    if (abc * abd < 0 && cda * cdb < 0) return true;
    return (abc == 0 && between(a, b, c)) || (abd == 0 && between(a, b, d)) || (cda == 0 && between(c, d, a)) ||
           (cdb == 0 && between(c, d, b));
}
bool is_simple(const std::vector<Whole>& p, bool closed) {
    const std::size_t n = p.size(), sides = closed ? n : n - 1;
    for (std::size_t a = 0; a < sides; ++a) {
        for (std::size_t b = a + 1; b < sides; ++b) {
            const Whole a0 = p[a], a1 = p[(a + 1) % n], b0 = p[b], b1 = p[(b + 1) % n];
            const bool next = b == a + 1, last = closed && a == 0 && b + 1 == sides;
            if (!next && !last && share_a_point(a0, a1, b0, b1)) return false;
            const auto folds = [](Whole q, Whole c, Whole r) {
                return turn(q, c, r) == 0 && (q.x - c.x) * (r.x - c.x) + (q.y - c.y) * (r.y - c.y) > 0;
            };
            if (next && folds(a0, a1, b1)) return false;
            if (last && folds(a1, a0, b0)) return false;
        }
    }
    return true;
}
bool all_different(std::vector<Whole> p) {
    const auto before = [](Whole a, Whole b) { return a.x < b.x || (a.x == b.x && a.y < b.y); };
    std::sort(p.begin(), p.end(), before);
    return std::adjacent_find(p.begin(), p.end(), [](Whole a, Whole b) { return a.x == b.x && a.y == b.y; }) == p.end();
}
std::vector<Vec2> as_places(const std::vector<Whole>& p) {
    std::vector<Vec2> places;
    for (const Whole w : p) places.push_back({static_cast<double>(w.x), static_cast<double>(w.y)});
    return places;
}

}  // namespace

TEST_CASE("the side of a line is told right where rounding alone would guess") {
    // Points half a unit in the last place off a long diagonal: the plain product of differences rounds to nought or worse.
    const Vec2 a{12.0, 12.0}, b{24.0, 24.0};
    int plain_wrong = 0;
    for (int i = 0; i < 64; ++i) {
        for (int j = 0; j < 64; ++j) {
            const Vec2 c{0.5 + i * 0x1.0p-53, 0.5 + j * 0x1.0p-53};
            const int expected = j > i ? 1 : j < i ? -1 : 0;
            CHECK(side_of_line(a, b, c) == expected);
            const double plain = (a.x - c.x) * (b.y - c.y) - (a.y - c.y) * (b.x - c.x);
            plain_wrong += (plain > 0 ? 1 : plain < 0 ? -1 : 0) != expected;
        }
    }
    CHECK(plain_wrong > 100);  // the case is one that needs care
}

TEST_CASE("the side of a line is told right where even the products of the coordinates are rounded") {
    // Along d = (p, q), across e with cross(d, e) = 1 by Euclid: cross(b - a, c - a) = m s for b = a + m d, c = a + k d + s e. Products
    // are near 2^100, and m s near 2^20.
    Random random(4);
    for (int i = 0; i < 5000; ++i) {
        std::int64_t p = static_cast<std::int64_t>(random.index(1U << 26)) + 2, q = static_cast<std::int64_t>(random.index(1U << 26)) + 2;
        const auto divide = [](std::int64_t a, std::int64_t b) {  // x a + y b = gcd, as {gcd, x, y}
            std::int64_t x = 1, y = 0, next_x = 0, next_y = 1;
            while (b != 0) {
                const std::int64_t times = a / b;
                x = std::exchange(next_x, x - times * next_x);
                y = std::exchange(next_y, y - times * next_y);
                a = std::exchange(b, a - times * b);
            }
            return std::array{a, x, y};
        };
        const std::int64_t common = divide(p, q)[0];
        p /= common;
        q /= common;
        const auto [one, x, y] = divide(p, q);
        REQUIRE(one == 1);
        const Whole e{-y, x};
        const auto small = [&] { return static_cast<std::int64_t>(random.index(1U << 20)) - (1 << 19); };
        const std::int64_t m = small(), k = small(), s = static_cast<std::int64_t>(random.index(3)) - 1;
        const Whole a{small() << 28, small() << 28};
        const std::vector<Vec2> at = as_places({a, {a.x + m * p, a.y + m * q}, {a.x + k * p + s * e.x, a.y + k * q + s * e.y}});
        CHECK(side_of_line(at[0], at[1], at[2]) == sign(m) * sign(s));
    }
}

TEST_CASE("a sweep finds a crossing exactly when looking at every pair in whole numbers does") {
    Random random(3);
    std::size_t simple = 0, crossed = 0;
    for (int round = 0; round < 60000; ++round) {
        const bool closed = random.chance(0.7);
        const std::size_t n = 3 + random.index(7);
        // Small grids are full of touching corners, straight corners, folds, upright and level sides.
        const std::size_t grid = 3 + random.index(8);
        std::vector<Whole> p;
        for (std::size_t k = 0; k < n; ++k) {
            p.push_back({static_cast<std::int64_t>(random.index(grid)), static_cast<std::int64_t>(random.index(grid))});
        }
        if (!all_different(p)) continue;
        const bool expected = is_simple(p, closed);
        const std::vector<Vec2> places = as_places(p);
        const bool found = first_crossing(places, closed).has_value();
        if (found == expected) FAIL("round " << round);
        if (all_crossings(places, closed, 100).empty() != expected) FAIL("every pair, round " << round);
        (expected ? simple : crossed) += 1;
    }
    CHECK(simple > 5000);
    CHECK(crossed > 5000);
}

TEST_CASE("larger rings: sweep and every pair agree, and the place lies on both sides") {
    Random random(4);
    std::size_t simple = 0;
    for (int round = 0; round < 400; ++round) {
        const std::size_t n = 10 + random.index(190);
        std::vector<Vec2> p;
        for (std::size_t k = 0; k < n; ++k) {
            const double deg = 360.0 * static_cast<double>(k) / static_cast<double>(n);
            p.push_back(random.between(0.3, 1.0) * unit_deg(deg));
        }
        if (random.chance(0.5)) std::swap(p[random.index(n)], p[random.index(n)]);
        const std::optional<Crossing> first = first_crossing(p, true);
        const std::vector<Crossing> all = all_crossings(p, true, 100000);
        REQUIRE(first.has_value() == !all.empty());
        if (!first) {
            ++simple;
            continue;
        }
        CHECK(std::find(all.begin(), all.end(), *first) != all.end());
        for (const std::size_t side : {first->first, first->second}) {
            const Vec2 from = p[side], along = p[(side + 1) % n] - from;
            CHECK(std::abs(cross(along, first->at_mm - from)) / length(along) < 1e-12);
        }
    }
    CHECK(simple > 150);
}

TEST_CASE("the sweep does not mind 100,000 corners, whatever the shape") {
    constexpr std::size_t n = 100000;
    Random random(5);
    std::vector<Vec2> spiky, comb;
    for (std::size_t k = 0; k < n; ++k) {
        spiky.push_back(random.between(0.3, 1.0) * 1e4 * unit_deg(360.0 * static_cast<double>(k) / static_cast<double>(n)));
        if (k + 2 < n)
            comb.push_back(Vec2{0.01 * static_cast<double>(k), 0.01 * static_cast<double>(k)} +
                           (k % 2 == 0 ? Vec2{0.0, 0.0} : Vec2{-5e4, 5e4}));
    }
    comb.push_back({1e5, -1.0});
    comb.push_back({0.0, -1.0});
    CHECK_FALSE(first_crossing(spiky, true));
    CHECK_FALSE(first_crossing(comb, true));
    std::swap(spiky[40000], spiky[60000]);
    CHECK(first_crossing(spiky, true));
}

TEST_CASE("corners in one place are found across the ring, neighbours left out") {
    const std::vector<Vec2> p = {{0, 0}, {5, 0}, {5, 5}, {0, 1e-9}, {0, 7}, {5, 5}, {5, 5}, {-3, 2}};
    const std::vector<RepeatedCorner> found = repeated_corners(p, true, 1e-6);
    REQUIRE(found.size() == 3);
    CHECK((found[0].first == 0 && found[0].again == 3));
    CHECK((found[1].first == 2 && found[1].again == 5));
    CHECK((found[2].first == 2 && found[2].again == 6));
    CHECK(repeated_corners({{0, 0}, {0, 0}, {4, 4}, {0, 0}}, true, 1e-6).size() ==
          1);  // the last corner is the first one's neighbour
    CHECK(repeated_corners({{0, 0}, {3, 3}, {4, 4}, {0, 0}}, true, 1e-6).empty());
    CHECK(repeated_corners({{0, 0}, {3, 3}, {4, 4}, {0, 0}}, false, 1e-6).size() == 1);
    std::vector<Vec2> heap(100000, Vec2{1.0, 1.0});
    CHECK(repeated_corners(heap, true, 1e-6).size() > 0);
}
