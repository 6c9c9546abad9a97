// Which peg of a staked-out ring to move.
#include "outline/pegs.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

std::vector<Vec2> ring_of(Random& random, std::size_t n) {
    std::vector<Vec2> ring;
    for (std::size_t c = 0; c < n; ++c) {
        const double deg = 360.0 * (static_cast<double>(c) + random.between(-0.2, 0.2)) / static_cast<double>(n);
        ring.push_back(random.between(600.0, 1500.0) * unit_deg(deg));
    }
    return ring;
}

std::vector<Vec2> carried(const std::vector<Vec2>& ring, double deg, Vec2 by) {
    std::vector<Vec2> there;
    for (const Vec2 p : ring) there.push_back(turned(p, cos_deg(deg), sin_deg(deg)) + by);
    return there;
}

// The least sum of squares over a turn, by looking: the shift is the middle of what is left.
std::vector<Vec2> laid_by_looking(const std::vector<Vec2>& wanted, const std::vector<Vec2>& found, const std::vector<std::size_t>& keep) {
    const auto laid = [&](double deg) {
        std::vector<Vec2> there = carried(wanted, deg, {});
        Vec2 by;
        for (const std::size_t c : keep) by = by + (1.0 / static_cast<double>(keep.size())) * (found[c] - there[c]);
        for (Vec2& p : there) p = p + by;
        return there;
    };
    const auto sum = [&](double deg) {
        const std::vector<Vec2> there = laid(deg);
        double squares = 0.0;
        for (const std::size_t c : keep) squares += dot(there[c] - found[c], there[c] - found[c]);
        return squares;
    };
    double best = 0.0;
    for (double deg = -180.0; deg < 180.0; deg += 1.0) {
        if (sum(deg) < sum(best)) best = deg;
    }
    for (double step = 0.5; step > 1e-9; step *= 0.5) {
        for (const double deg : {best - step, best + step}) {
            if (sum(deg) < sum(best)) best = deg;
        }
    }
    return laid(best);
}

}  // namespace

TEST_CASE("Pegs where they belong stay, wherever the ring lies") {
    Random random(51);
    for (int i = 0; i < 200; ++i) {
        const std::size_t n = 3 + random.index(6);
        const std::vector<Vec2> wanted = ring_of(random, n);
        const auto found = carried(wanted, random.between(-180.0, 180.0), {random.between(-1e4, 1e4), 300.0});
        const PegMoves moves = move_pegs(wanted, found, std::vector<double>(n, 1e-6), std::vector<bool>(n, false), true);
        REQUIRE(moves.moved == 0);
        for (const PegMove& peg : moves.pegs) REQUIRE(peg.off_mm < 1e-8);
    }
}

TEST_CASE("The pegs knocked out of place are the ones named, with the way back") {
    Random random(52);
    for (int i = 0; i < 400; ++i) {
        const std::size_t n = i % 8 == 0 ? 16 + random.index(10) : 5 + random.index(8);  // beyond 14 the choices are grown
        const std::vector<Vec2> wanted = ring_of(random, n);
        auto found = carried(wanted, random.between(-180.0, 180.0), {500.0, -200.0});
        for (Vec2& p : found) p = p + Vec2{random.between(-1.0, 1.0), random.between(-1.0, 1.0)};
        const std::size_t knocked = 1 + random.index(std::max<std::size_t>(1, (n - 1) / 2 - 1));
        std::vector<bool> out(n, false);
        std::vector<Vec2> back(n);
        for (std::size_t k = 0; k < knocked; ++k) {
            std::size_t c = random.index(n);
            while (out[c]) c = (c + 1) % n;
            out[c] = true;
            back[c] = random.between(25.0, 90.0) * unit_deg(random.between(0.0, 360.0));
            found[c] = found[c] - back[c];
        }
        const PegMoves moves = move_pegs(wanted, found, std::vector<double>(n, 4.0), std::vector<bool>(n, false), true);
        REQUIRE(moves.moved == knocked);
        for (std::size_t c = 0; c < n; ++c) {
            const PegMove& peg = moves.pegs[c];
            REQUIRE(peg.stays != out[c]);
            if (peg.stays) continue;
            REQUIRE(length(peg.place_mm - found[c] - back[c]) < 8.0);
            REQUIRE(peg.off_mm == Approx(std::hypot(peg.towards_mm, peg.out_mm)));
            // Two tapes find it.
            for (std::size_t t = 0; t < 2; ++t) REQUIRE(length(moves.pegs[peg.from[t]].place_mm - peg.place_mm) == Approx(peg.from_mm[t]));
        }
    }
}

TEST_CASE("No other choice of pegs leaves more standing, or as many with less to move") {
    Random random(53);
    for (int i = 0; i < 25; ++i) {
        const std::size_t n = 3 + random.index(3);
        const std::vector<Vec2> wanted = ring_of(random, n);
        auto found = carried(wanted, random.between(-170.0, 170.0), {});
        for (Vec2& p : found) p = p + Vec2{random.between(-12.0, 12.0), random.between(-12.0, 12.0)};
        const double within = 6.0;
        const PegMoves moves = move_pegs(wanted, found, std::vector<double>(n, within), std::vector<bool>(n, false), true);
        std::size_t most = 0;
        double least = 1e300;
        for (std::size_t bits = 1; bits < (std::size_t{1} << n); ++bits) {
            std::vector<std::size_t> keep;
            for (std::size_t c = 0; c < n; ++c) {
                if (((bits >> c) & 1U) != 0) keep.push_back(c);
            }
            if (keep.size() < 2) continue;
            const std::vector<Vec2> there = laid_by_looking(wanted, found, keep);
            double moved = 0.0;
            bool possible = true;
            for (std::size_t c = 0; c < n; ++c) {
                const double off = length(there[c] - found[c]);
                const bool kept = std::find(keep.begin(), keep.end(), c) != keep.end();
                if (kept && off > within) possible = false;
                if (!kept) moved += off;
            }
            if (!possible || keep.size() < most) continue;
            if (keep.size() > most) least = 1e300;
            most = keep.size();
            least = std::min(least, moved);
        }
        if (most < 2) continue;
        REQUIRE(n - moves.moved == most);
        REQUIRE(moves.moved_mm == Approx(least).margin(1e-3));
    }
}

TEST_CASE("A peg that must stay stays, and the others follow it") {
    const std::vector<Vec2> wanted{{0.0, 0.0}, {1000.0, 0.0}, {1000.0, 800.0}, {0.0, 800.0}};
    std::vector<Vec2> found = wanted;
    found[0].x = -30.0;  // A stands 30 too far out
    const std::vector<double> within(4, 5.0);
    const PegMoves free = move_pegs(wanted, found, within, std::vector<bool>(4, false), true);
    CHECK(free.moved == 1);
    CHECK_FALSE(free.pegs[0].stays);
    CHECK(free.pegs[0].string_to == 1);
    CHECK(free.pegs[0].towards_mm == Approx(30.0));
    CHECK(std::abs(free.pegs[0].out_mm) < 1e-9);
    const PegMoves held = move_pegs(wanted, found, within, {true, false, false, false}, true);
    CHECK(held.pegs[0].stays);
    CHECK(held.moved > 1);
    CHECK(held.pegs[0].off_mm <= 5.0);
}

TEST_CASE("Of 89 pegs, 3916 pairs, the three that stand where they belong are found: up to 4000 pairs all are looked at") {
    constexpr std::size_t n = 89;
    Random random(57);
    const auto pair_number = [](std::size_t a, std::size_t b) { return a * n - a * (a + 1) / 2 + (b - a - 1); };
    for (int round = 0; round < 3; ++round) {
        const std::vector<Vec2> wanted = ring_of(random, n);
        // Three whose pairs all have odd numbers: a search over every other pair would never begin with two of them.
        std::array<std::size_t, 3> stay{};
        do {
            for (std::size_t& c : stay) c = random.index(n);
            std::sort(stay.begin(), stay.end());
        } while (stay[0] == stay[1] || stay[1] == stay[2] || pair_number(stay[0], stay[1]) % 2 == 0 || pair_number(stay[1], stay[2]) % 2 == 0 ||
                 pair_number(stay[0], stay[2]) % 2 == 0);
        std::vector<Vec2> found = carried(wanted, 30.0, {500.0, -200.0});
        for (std::size_t c = 0; c < n; ++c) {
            if (std::find(stay.begin(), stay.end(), c) == stay.end()) found[c] = found[c] + random.between(50.0, 500.0) * unit_deg(random.between(0.0, 360.0));
        }
        const PegMoves moves = move_pegs(wanted, found, std::vector<double>(n, 0.01), std::vector<bool>(n, false), true);
        CHECK(moves.moved == n - 3);
        for (const std::size_t c : stay) CHECK(moves.pegs[c].stays);
    }
}
