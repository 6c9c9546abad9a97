// A frame hung true on a crooked opening.
#include "outline/hang.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <vector>

#include "base/angle.hpp"
#include "outline/build.hpp"
#include "outline/outline.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

// An opening of four sides that was meant to be true; sometimes with a gable on it.
Outline crooked(Random& random, double by_mm) {
    const double w = random.between(500.0, 2500.0), h = random.between(500.0, 2500.0);
    std::vector<Vec2> corners{{0.0, 0.0}, {w, 0.0}, {w, h}};
    if (random.chance(0.4)) corners.push_back({random.between(0.3, 0.7) * w, h + random.between(0.3, 0.8) * w});
    corners.push_back({0.0, h});
    for (Vec2& c : corners) c = c + Vec2{random.between(-by_mm, by_mm), random.between(-by_mm, by_mm)};
    return build_corners(corners, false);
}

struct MarginsAndBows {
    std::vector<double> margin_mm, bow_mm;
};

MarginsAndBows wanted_of(Random& random, const Outline& opening) {
    MarginsAndBows w;
    for (std::size_t k = 0; k < opening.boards(); ++k) {
        w.margin_mm.push_back(random.between(2.0, 14.0));
        w.bow_mm.push_back(random.chance(0.5) ? 0.0 : random.between(-4.0, 4.0));
    }
    return w;
}

std::array<Vec2, 3> points_of(const Outline& opening, std::size_t k, double bow_mm) {
    const Vec2 a = opening.corners_mm[k], b = opening.corners_mm[opening.corner_after(k)];
    return {a, 0.5 * (a + b) + (bow_mm / length(b - a)) * right_of(b - a), b};
}

// min t with |c - s - wanted| <= t and least <= c - s <= most for all s: a linear programme in c and t, solved at its vertices.
// Rows p c + q t <= r.
std::optional<double> least_departure(const std::vector<double>& s, double wanted, double least, double most) {
    std::vector<std::array<double, 3>> rows;
    for (const double out : s) {
        rows.push_back({1.0, -1.0, wanted + out});
        rows.push_back({-1.0, -1.0, -wanted - out});
        rows.push_back({1.0, 0.0, most + out});
        rows.push_back({-1.0, 0.0, -least - out});
    }
    std::optional<double> best;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        for (std::size_t j = i + 1; j < rows.size(); ++j) {
            const double det = rows[i][0] * rows[j][1] - rows[i][1] * rows[j][0];
            if (det == 0.0) continue;
            const double c = (rows[i][2] * rows[j][1] - rows[i][1] * rows[j][2]) / det;
            const double t = (rows[i][0] * rows[j][2] - rows[i][2] * rows[j][0]) / det;
            const bool in = std::all_of(rows.begin(), rows.end(), [&](const auto& r) { return r[0] * c + r[1] * t <= r[2] + 1e-9; });
            if (in && (!best || t < *best)) best = t;
        }
    }
    return best;
}

// Widest range of margin that any side of a frame of these directions, turned, needs.
double range_needed(const Outline& opening, const Hang& hang, const std::vector<double>& bow_mm, double turned_deg) {
    double widest = 0.0;
    const std::size_t n = opening.boards();
    for (std::size_t k = 0; k < n; ++k) {
        const Vec2 way = hang.true_mm[(k + 1) % n] - hang.true_mm[k];
        const Vec2 out = right_of(unit_deg(direction_deg(way) + turned_deg));
        double low = 1e300, high = -1e300;
        for (const Vec2 p : points_of(opening, k, bow_mm[k])) low = std::min(low, dot(out, p)), high = std::max(high, dot(out, p));
        widest = std::max(widest, high - low);
    }
    return widest;
}

}  // namespace

TEST_CASE("An opening that is true already is hung on as it is") {
    const Outline opening = build_corners({{0.0, 0.0}, {900.0, 0.0}, {900.0, 1200.0}, {0.0, 1200.0}}, false);
    const Hang hang = hang_true(opening, {8.0, 8.0, 8.0, 8.0}, {0.0, 0.0, 0.0, 0.0}, 4.0, 12.0);
    CHECK(hang.fits);
    CHECK(hang.needs_mm == 0.0);
    for (std::size_t c = 0; c < 4; ++c) CHECK(length(hang.true_mm[c] - opening.corners_mm[c]) < 1e-12);
    for (const HungSide& side : hang.sides) {
        for (const double margin : side.margin_mm) CHECK(margin == 8.0);
    }
    CHECK(hang.sides[0].lies == HungSide::Lies::level);
    CHECK(hang.sides[1].lies == HungSide::Lies::plumb);
}

TEST_CASE("One leaning side by hand: half of what it leans is given at one end and taken at the other") {
    // BC leans 10 to the right over its height: at C the frame's plumb line gives 10 less.
    const Outline opening = build_corners({{0.0, 0.0}, {900.0, 0.0}, {910.0, 1200.0}, {0.0, 1200.0}}, false);
    const std::vector<double> eight(4, 8.0), straight(4, 0.0);
    const Hang even = hang_true(opening, eight, straight, 2.0, 14.0);
    CHECK(even.fits);
    CHECK(even.sides[1].margin_mm[0] == Approx(13.0));
    CHECK(even.sides[1].margin_mm[1] == Approx(8.0));
    CHECK(even.sides[1].margin_mm[2] == Approx(3.0));
    const Hang narrow = hang_true(opening, eight, straight, 5.0, 20.0);  // not under 5 anywhere: 5 to 15
    CHECK(narrow.sides[1].margin_mm[0] == Approx(15.0));
    CHECK(narrow.sides[1].margin_mm[2] == Approx(5.0));
    const Hang none = hang_true(opening, eight, straight, 5.0, 14.0);  // 9 is less than 10
    CHECK_FALSE(none.fits);
    CHECK(none.needs_mm == Approx(10.0));
    CHECK(none.needs_side == 1);
    // Turned by what takes 1 of the 10 off over 1200: clockwise.
    REQUIRE(none.turned_deg);
    CHECK(*none.turned_deg == Approx(-degrees(1.0 / 1200.0)).epsilon(1e-3));
}

TEST_CASE("Margins told are those taped from the frame's own lines, and no frame of these directions departs less") {
    Random random(42);
    std::size_t fitting = 0, turned = 0;
    for (int i = 0; i < 3000; ++i) {
        const Outline opening = crooked(random, 8.0);
        const MarginsAndBows w = wanted_of(random, opening);
        const double least = random.between(0.0, 4.0), most = least + random.between(6.0, 30.0);
        const Hang hang = hang_true(opening, w.margin_mm, w.bow_mm, least, most);
        const std::size_t n = opening.boards();
        fitting += hang.fits ? 1U : 0U;
        for (std::size_t k = 0; k < n; ++k) {
            // The frame's line: the true line moved outward by the margin asked, taped from the points of the opening.
            const Vec2 a = hang.true_mm[k], way = hang.true_mm[(k + 1) % n] - a;
            const Vec2 out = (1.0 / length(way)) * right_of(way);
            std::vector<double> s;
            const std::array<Vec2, 3> at = points_of(opening, k, w.bow_mm[k]);
            double departs = 0.0;
            for (std::size_t e = 0; e < 3; ++e) {
                const double margin = w.margin_mm[k] - dot(out, at[e] - a);
                REQUIRE(std::abs(margin - hang.sides[k].margin_mm[e]) < 1e-8);
                s.push_back(dot(out, at[e]));
                departs = std::max(departs, std::abs(margin - w.margin_mm[k]));
                if (hang.fits) REQUIRE((margin > least - 1e-8 && margin < most + 1e-8));
            }
            const std::optional<double> programme = least_departure(s, w.margin_mm[k], least, most);
            if (hang.fits) {
                REQUIRE(programme);
                REQUIRE(std::abs(departs - *programme) < 1e-6);
            }
        }
        if (hang.fits || !hang.turned_deg) continue;
        ++turned;
        REQUIRE(range_needed(opening, hang, w.bow_mm, *hang.turned_deg) < most - least + 1e-6);
        for (int step = 0; step < 200; ++step) {  // nothing nearer to level will do
            const double nearer = *hang.turned_deg * (static_cast<double>(step) / 200.0) * 0.9999;
            REQUIRE(range_needed(opening, hang, w.bow_mm, nearer) > most - least - 1e-6);
        }
    }
    CHECK(fitting > 500);
    CHECK(turned > 50);
}

TEST_CASE("Where no turn is found there is none") {
    Random random(43);
    std::size_t none = 0;
    for (int i = 0; i < 600; ++i) {
        const Outline opening = crooked(random, 10.0);
        const MarginsAndBows w = wanted_of(random, opening);
        const Hang hang = hang_true(opening, w.margin_mm, w.bow_mm, 2.0, 10.0);
        if (hang.fits || hang.turned_deg) continue;
        ++none;
        for (double deg = -3.0; deg <= 3.0; deg += 0.01) REQUIRE(range_needed(opening, hang, w.bow_mm, deg) > 8.0 - 1e-3);
    }
    CHECK(none > 50);
}

TEST_CASE("Slopes that were built so stay, and the ends of a casing go straight out from the opening's") {
    const Outline gable = build_corners({{0.0, 0.0}, {900.0, 4.0}, {903.0, 800.0}, {450.0, 1300.0}, {0.0, 800.0}}, false);
    const Hang hang = hang_true(gable, std::vector<double>(5, 8.0), std::vector<double>(5, 0.0), 0.0, 20.0);
    CHECK(hang.sides[2].lies == HungSide::Lies::as_found);
    CHECK(hang.sides[3].lies == HungSide::Lies::as_found);
    CHECK(std::abs(hang.sides[2].out_mm) < 1e-9);
    const Outline door = build_corners({{5.0, 2000.0}, {0.0, 0.0}, {800.0, 0.0}, {803.0, 2000.0}}, true);
    const Hang casing = hang_true(door, {8.0, 8.0, 8.0}, {0.0, 0.0, 0.0}, 2.0, 16.0);
    CHECK(casing.fits);
    CHECK(casing.true_mm.front().y == Approx(2000.0));
    CHECK(casing.true_mm.front().x == Approx(casing.true_mm[1].x));
    CHECK(casing.sides[0].margin_mm[0] + casing.sides[0].margin_mm[2] == Approx(16.0));
}
