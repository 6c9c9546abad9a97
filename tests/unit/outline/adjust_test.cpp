#include "outline/adjust.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <vector>

#include "base/angle.hpp"
#include "outline/build.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random.hpp"
#include "support/random_frame.hpp"

using namespace boardring;
using boardring_test::cases;
using boardring_test::Random;

namespace {

Chain chain_of(const std::vector<double>& sides_mm, const std::vector<double>& interior_deg, double side_within_mm,
               double angle_within_deg) {
    return {true, sides_mm, interior_deg, std::vector<double>(sides_mm.size(), side_within_mm),
            std::vector<double>(sides_mm.size(), angle_within_deg)};
}

// A ring that closes, some hundreds of mm across, inward corners included.
Chain true_ring(Random& random, std::size_t most_corners) {
    for (;;) {
        std::optional<std::vector<Vec2>> points = boardring_test::random_frame::star(random, 3 + random.index(most_corners - 2));
        if (!points) continue;
        const double size_mm = random.log_between(100.0, 4000.0);
        for (Vec2& p : *points) p = size_mm * p;
        const Outline o = build_points({*points}, false, false);
        return chain_of(o.sides_mm, o.interior_deg, 0.0, 0.0);
    }
}

double rounded(double value, double step) {
    return std::round(value / step) * step;
}

// What a maker with this rule and this protractor writes down.
Chain written_down(const Chain& ring, double rule_mm, double protractor_deg) {
    Chain chain = ring;
    for (std::size_t k = 0; k < ring.sides(); ++k) {
        chain.sides_mm[k] = rounded(ring.sides_mm[k], rule_mm);
        chain.interior_deg[k] = rounded(ring.interior_deg[k], protractor_deg);
        chain.side_within_mm[k] = 0.5 * rule_mm;
        chain.angle_within_deg[k] = 0.5 * protractor_deg;
    }
    return chain;
}

void check_closes_within(const Chain& given, const Spread& spread) {
    const Chain closed = with_spread(given, spread);
    CHECK(length(walk(closed).end_mm) <= 1e-12 * perimeter_mm(given));
    CHECK(std::abs(angle_misfit_deg(closed)) <= 1e-9);
    for (std::size_t k = 0; k < given.sides(); ++k) {
        CHECK(std::abs(spread.side_mm[k]) <= given.side_within_mm[k] * (1.0 + 1e-6) + 1e-9);
        CHECK(std::abs(spread.angle_deg[k]) <= given.angle_within_deg[k] * (1.0 + 1e-6) + 1e-9);
    }
}

const Chain kPentagon = chain_of({900, 820, 760, 936, 774}, {108, 115, 97, 122, 98}, 0.5, 0.5);

}  // namespace

TEST_CASE("a ring that closes is left alone") {
    const Chain square = chain_of({600, 600, 600, 600}, {90, 90, 90, 90}, 0.5, 0.5);
    const std::optional<Spread> spread = spread_within_digits(square);
    REQUIRE(spread);
    CHECK(spread->angles_by_shares);
    for (std::size_t k = 0; k < 4; ++k) {
        CHECK(spread->side_mm[k] == 0.0);
        CHECK(spread->angle_deg[k] == 0.0);
    }
}

TEST_CASE("a pentagon that misses by half a millimetre is closed by its sides, the angles kept") {
    const std::optional<Spread> spread = spread_within_digits(kPentagon);
    REQUIRE(spread);
    check_closes_within(kPentagon, *spread);
    for (const double angle : spread->angle_deg) CHECK(angle == 0.0);
    // Second way to the same least squares: v = A'(AA')^-1 r with equal weights, both conditions written out.
    const Walk walked = walk(kPentagon);
    double xx = 0, xy = 0, yy = 0;
    for (const Vec2 u : walked.along) {
        xx += u.x * u.x;
        xy += u.x * u.y;
        yy += u.y * u.y;
    }
    const double det = xx * yy - xy * xy;
    const Vec2 r = -walked.end_mm;
    const Vec2 l = {(yy * r.x - xy * r.y) / det, (xx * r.y - xy * r.x) / det};
    for (std::size_t k = 0; k < 5; ++k) CHECK_THAT(spread->side_mm[k], within_mm(dot(walked.along[k], l), 1e-9));
}

TEST_CASE("half a degree short is shared out equally where the sides allow it") {
    // Sides from a ring of exactly 108.1 115.1 97.1 122.1 97.6, to 0.1 mm; angles written to half degrees.
    Chain ring = kPentagon;
    ring.interior_deg = {108.1, 115.1, 97.1, 122.1, 97.6};
    ring.side_within_mm.assign(5, 100.0);
    const std::optional<Spread> closing = spread_within_digits(ring);
    REQUIRE(closing);
    Chain given = with_spread(ring, *closing);
    for (double& side : given.sides_mm) side = rounded(side, 0.1);
    given.interior_deg = {108, 115, 97, 122, 97.5};
    given.side_within_mm.assign(5, 0.05);
    const std::optional<Spread> spread = spread_within_digits(given);
    REQUIRE(spread);
    CHECK(spread->angles_by_shares);
    for (const double angle : spread->angle_deg) CHECK_THAT(angle, within_deg(0.1, 1e-12));
    check_closes_within(given, *spread);
}

TEST_CASE("shares go by what the digits allow: a value with its own +-0 is not touched") {
    Chain given = chain_of({600, 600, 600, 600}, {90, 90, 89.5, 90}, 0.5, 0.5);
    given.angle_within_deg = {0.0, 0.5, 1.0, 0.5};
    given.side_within_mm = {0.0, 20.0, 20.0, 20.0};
    const std::optional<Spread> spread = spread_within_digits(given);
    REQUIRE(spread);
    check_closes_within(given, *spread);
    CHECK(spread->angle_deg[0] == 0.0);
    CHECK(spread->side_mm[0] == 0.0);
    CHECK_THAT(spread->angle_deg[2], within_deg(4.0 * spread->angle_deg[1], 1e-9));
}

TEST_CASE("a misfit beyond the digits is refused, in angles as in sides") {
    Chain wrong = kPentagon;
    wrong.interior_deg[2] = 102.0;
    CHECK_FALSE(spread_within_digits(wrong));
    wrong = kPentagon;
    wrong.sides_mm[0] = 1000.0;
    CHECK_FALSE(spread_within_digits(wrong));
    wrong = kPentagon;
    wrong.side_within_mm.assign(5, 0.05);
    wrong.angle_within_deg.assign(5, 0.0);
    CHECK_FALSE(spread_within_digits(wrong));
}

TEST_CASE("readings rounded honestly from a ring that closes are never refused") {
    Random random(11);
    std::size_t by_plain_squares = 0;
    const std::size_t rounds = cases(20000, 1000000);
    for (std::size_t round = 0; round < rounds; ++round) {
        // Triangles with coarse digits are the hard case: three conditions on six values.
        const Chain ring = true_ring(random, round % 2 == 0 ? 5 : 20);
        constexpr double rules[] = {1.0, 0.5, 5.0, 25.4 / 16.0};
        constexpr double protractors[] = {1.0, 0.5, 0.1, 0.01};
        const Chain given = written_down(ring, rules[random.index(4)], protractors[random.index(4)]);
        const std::optional<Spread> spread = spread_within_digits(given);
        if (!spread) FAIL("refused in round " << round);
        if (round % 20 == 0) check_closes_within(given, *spread);
        by_plain_squares += spread->angles_by_shares;
    }
    CHECK(by_plain_squares > 0);
    CHECK(by_plain_squares < rounds);
}

TEST_CASE("corrections scale with the ring") {
    Random random(12);
    for (int round = 0; round < 200; ++round) {
        const Chain given = written_down(true_ring(random, 12), 1.0, 0.5);
        Chain large = given;
        for (double& side : large.sides_mm) side *= 8.0;
        for (double& within : large.side_within_mm) within *= 8.0;
        const std::optional<Spread> small_spread = spread_within_digits(given);
        const std::optional<Spread> large_spread = spread_within_digits(large);
        REQUIRE(small_spread);
        REQUIRE(large_spread);
        for (std::size_t k = 0; k < given.sides(); ++k) {
            CHECK_THAT(large_spread->side_mm[k], within_mm(8.0 * small_spread->side_mm[k], 1e-8));
            CHECK_THAT(large_spread->angle_deg[k], within_deg(small_spread->angle_deg[k], 1e-9));
        }
    }
}

TEST_CASE("no other way of closing within the digits has smaller squares") {
    // Any small step along a direction that keeps the ring closed must not lower the sum of squares: try random ones.
    Random random(13);
    int tried = 0;
    for (int round = 0; round < 300; ++round) {
        const Chain given = written_down(true_ring(random, 7), 1.0, 1.0);
        const std::optional<Spread> spread = spread_within_digits(given);
        REQUIRE(spread);
        if (spread->angles_by_shares) continue;
        const std::size_t n = given.sides();
        const auto squares = [&](const Spread& s) {
            double sum = 0.0;
            for (std::size_t k = 0; k < n; ++k) {
                sum +=
                    std::pow(s.side_mm[k] / given.side_within_mm[k], 2) + std::pow(s.angle_deg[k] / given.angle_within_deg[k], 2);
            }
            return sum;
        };
        // Another ring near by: nudge all values, close it again by sides and angles, keep it if it stays within the digits.
        Chain nudged = with_spread(given, *spread);
        for (std::size_t k = 0; k < n; ++k) {
            nudged.sides_mm[k] += given.side_within_mm[k] * random.between(-0.02, 0.02);
            nudged.interior_deg[k] += given.angle_within_deg[k] * random.between(-0.02, 0.02);
        }
        const std::optional<Spread> closing = spread_within_digits(nudged);
        if (!closing) continue;
        const Chain other = with_spread(nudged, *closing);
        Spread way{{}, {}, false};
        bool inside = true;
        for (std::size_t k = 0; k < n; ++k) {
            way.side_mm.push_back(other.sides_mm[k] - given.sides_mm[k]);
            way.angle_deg.push_back(other.interior_deg[k] - given.interior_deg[k]);
            inside = inside && std::abs(way.side_mm[k]) <= given.side_within_mm[k] &&
                     std::abs(way.angle_deg[k]) <= given.angle_within_deg[k];
        }
        if (!inside) continue;
        ++tried;
        CHECK(squares(way) >= squares(*spread) * (1.0 - 1e-4));
    }
    CHECK(tried > 50);
}
