#include "outline/build.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

// Corners of a regular polygon from its middle, in long double.
std::vector<Vec2> from_the_middle(std::size_t n, double side_mm) {
    const long double pi = std::acos(-1.0L);
    const long double h = pi / static_cast<long double>(n);
    const auto side = static_cast<long double>(side_mm);
    const long double radius = side / (2.0L * std::sin(h));
    std::vector<Vec2> corners;
    for (std::size_t k = 0; k < n; ++k) {
        const long double at = -pi / 2.0L - h + 2.0L * h * static_cast<long double>(k);
        corners.push_back({static_cast<double>(side / 2.0L + radius * std::cos(at)),
                           static_cast<double>(radius * std::cos(h) + radius * std::sin(at))});
    }
    return corners;
}

double largest_gap(const std::vector<Vec2>& a, const std::vector<Vec2>& b) {
    double worst = 0.0, largest = 0.0;
    for (std::size_t k = 0; k < a.size(); ++k) {
        worst = std::max(worst, length(a[k] - b[k]));
        largest = std::max({largest, std::abs(b[k].x), std::abs(b[k].y)});
    }
    return worst / largest;
}

double distance_of_lines(const Outline& o, std::size_t a, std::size_t b) {
    const Vec2 along = unit_deg(o.direction_deg[a]);
    return std::abs(cross(along, o.corners_mm[b] - o.corners_mm[a]));
}

}  // namespace

TEST_CASE("corners of a regular outline are right to 1e-14 of the largest coordinate, for any number of corners") {
    for (const std::size_t n : {3U, 4U, 5U, 6U, 7U, 8U, 12U, 31U, 100U, 1000U, 100000U}) {
        const Outline o = build_regular({n, RegularOutline::Of::side, 317.3});
        INFO(n);
        CHECK(largest_gap(o.corners_mm, from_the_middle(n, 317.3)) < 1e-14);
        CHECK(o.corners_mm[0] == Vec2{0.0, 0.0});
        CHECK(o.corners_mm[1] == Vec2{317.3, 0.0});
    }
}

TEST_CASE("each way of giving the size of a regular outline measures what it says") {
    const Outline flats = build_regular({6, RegularOutline::Of::over_flats, 640.0});
    CHECK_THAT(distance_of_lines(flats, 0, 3), within_mm(640.0, 1e-12));
    CHECK_THAT(flats.sides_mm[0], within_mm(640.0 / std::sqrt(3.0), 1e-12));
    const Outline points = build_regular({8, RegularOutline::Of::over_points, 900.0});
    CHECK_THAT(length(points.corners_mm[4] - points.corners_mm[0]), within_mm(900.0, 1e-12));
    const Outline in = build_regular({5, RegularOutline::Of::inscribed, 500.0});
    const Outline round = build_regular({5, RegularOutline::Of::circumscribed, 500.0});
    Vec2 middle_in, middle_round;
    for (std::size_t k = 0; k < 5; ++k) {
        middle_in = middle_in + 0.2 * in.corners_mm[k];
        middle_round = middle_round + 0.2 * round.corners_mm[k];
    }
    for (std::size_t k = 0; k < 5; ++k) {
        CHECK_THAT(cross(unit_deg(in.direction_deg[k]), middle_in - in.corners_mm[k]), within_mm(250.0, 1e-12));
        CHECK_THAT(length(middle_round - round.corners_mm[k]), within_mm(250.0, 1e-12));
    }
    CHECK(build_regular({4, RegularOutline::Of::over_flats, 600.0}).sides_mm[0] == 600.0);
    CHECK(build_regular({6, RegularOutline::Of::over_points, 600.0}).sides_mm[0] == 300.0);
}

TEST_CASE("a rectangle is exact") {
    const Outline o = build_rectangle({1200.0, 600.0});
    CHECK(o.corners_mm == std::vector<Vec2>{{0.0, 0.0}, {1200.0, 0.0}, {1200.0, 600.0}, {0.0, 600.0}});
    CHECK(o.sides_mm == std::vector<double>{1200.0, 600.0, 1200.0, 600.0});
    CHECK(o.interior_deg == std::vector<double>{90.0, 90.0, 90.0, 90.0});
}

TEST_CASE("counter-clockwise points stay where they are, clockwise ones are mirrored, whatever the project said") {
    const std::vector<Vec2> ring = {{10.0, 20.0}, {910.0, 20.0}, {910.0, 720.0}};
    for (const bool said : {false, true}) {
        const Outline o = build_points({ring}, false, said);
        CHECK(o.corners_mm == ring);
        CHECK_FALSE(o.letters_clockwise);
        const Outline mirrored = build_points({{ring[0], ring[2], ring[1]}}, false, said);
        CHECK(mirrored.letters_clockwise);
        CHECK(mirrored.corners_mm == std::vector<Vec2>{{10.0, -20.0}, {910.0, -720.0}, {910.0, -20.0}});
        CHECK(mirrored.interior_deg[2] == 90.0);
    }
}

TEST_CASE("open points have their middle where the chain bends to, whatever the project says of the letters") {
    // A doorway listed clockwise used to be built inside out: an 800 opening became 510.
    const std::vector<Vec2> run = {{0.0, 0.0}, {0.0, 500.0}, {400.0, 500.0}};
    for (const bool said : {false, true}) {
        const Outline mirrored = build_points({run}, true, said);
        CHECK(mirrored.letters_clockwise);
        CHECK(mirrored.interior_deg == std::vector<double>{180.0, 90.0, 180.0});
        CHECK(mirrored.boards() == 2);
        CHECK_FALSE(mirrored.is_joint(0));
        const Outline seen = build_points({{run[2], run[1], run[0]}}, true, said);
        CHECK_FALSE(seen.letters_clockwise);
        CHECK(seen.interior_deg == std::vector<double>{180.0, 90.0, 180.0});
        CHECK(seen.corners_mm == std::vector<Vec2>{run[2], run[1], run[0]});
    }
}

TEST_CASE("a straight open chain follows the letters the project says") {
    const std::vector<Vec2> run = {{0.0, 0.0}, {0.0, 500.0}, {0.0, 900.0}};
    CHECK_FALSE(build_points({run}, true, false).letters_clockwise);
    CHECK(build_points({run}, true, true).letters_clockwise);
}

TEST_CASE("points near a straight line keep the digits of their turn") {
    const double rise = 1e-6;
    const Outline o = build_points({{{0.0, 0.0}, {1000.0, -rise}, {2000.0, 0.0}, {2000.0, 500.0}, {0.0, 500.0}}}, false, false);
    // Both sides lean by rise / 1000 rad: the turn is twice that, to full precision although I is 180 to eight places.
    CHECK_THAT(o.turn_deg[1] / degrees(2e-9), WithinAbs(1.0, 1e-12));
}

TEST_CASE("places far from the origin do not cost the area its sign") {
    std::vector<Vec2> ring = {{0.0, 0.0}, {10.0, 0.0}, {10.0, 10.0}, {0.0, 10.0}};
    for (Vec2& p : ring) p = p + Vec2{1e9, -1e9};
    CHECK(twice_area_mm2(ring) == 200.0);
    std::reverse(ring.begin(), ring.end());
    CHECK(twice_area_mm2(ring) == -200.0);
}

TEST_CASE("arc pieces: corners lie on the circle or sides touch it, the centre on the left hand, ends radial") {
    Random random(7);
    for (int round = 0; round < 200; ++round) {
        const std::size_t pieces = 2 + random.index(20);
        const ArcOutline asked{random.between(50.0, 2000.0), random.between(10.0, 355.0), pieces,
                               random.chance(0.5) ? ArcOutline::Fits::flats : ArcOutline::Fits::corners};
        const Outline o = build_arc(asked);
        INFO(asked.radius_mm << " " << asked.span_deg << " " << pieces);
        REQUIRE(o.corners_mm.size() == pieces + 1);
        REQUIRE_FALSE(o.closed);
        const double h = asked.span_deg / (2.0 * static_cast<double>(pieces));
        const bool flats = asked.fits == ArcOutline::Fits::flats;
        const double to_flat = flats ? asked.radius_mm : asked.radius_mm * cos_deg(h);
        const Vec2 centre = {0.5 * o.sides_mm[0], to_flat};
        for (std::size_t k = 0; k <= pieces; ++k) {
            CHECK_THAT(length(o.corners_mm[k] - centre), within_mm(flats ? asked.radius_mm / cos_deg(h) : asked.radius_mm, 1e-9));
            if (k == pieces) break;
            CHECK_THAT(cross(unit_deg(o.direction_deg[k]), centre - o.corners_mm[k]), within_mm(to_flat, 1e-9));
        }
        // Radial ends: seen from the centre, first and last corner are the span apart.
        const double seen = direction_deg(o.corners_mm[pieces] - centre) - direction_deg(o.corners_mm[0] - centre);
        CHECK_THAT(std::remainder(seen - asked.span_deg, 360.0), within_deg(0.0, 1e-9));
    }
}

TEST_CASE("one piece spans an arc as a single chord") {
    const Outline o = build_arc({500.0, 60.0, 1, ArcOutline::Fits::corners});
    CHECK_THAT(o.sides_mm[0], within_mm(500.0, 1e-12));
    CHECK(o.turn_deg == std::vector<double>{0.0, 0.0});
}
