// Which way up an opening stands: said, decided by what was read against level, or by where the letters start.
#include "outline/way_up.hpp"

#include <array>
#include <cstddef>
#include <utility>
#include <vector>

#include "support/catch.hpp"

using namespace boardring;

namespace {

// Four corners, every distance exact, and falls and leans as asked.
struct Wall {
    std::vector<Vec2> p;
    Network network;

    explicit Wall(std::vector<Vec2> corners) : p(std::move(corners)) {
        network.corners = network.points = p.size();
        for (std::size_t c = 0; c < p.size(); ++c) network.letters.push_back(c);
        for (std::size_t a = 0; a < p.size(); ++a) {
            for (std::size_t b = a + 1; b < p.size(); ++b) read(Observation::Kind::distance, a, b, length(p[b] - p[a]));
        }
    }
    void read(Observation::Kind kind, std::size_t a, std::size_t b, double value) {
        Observation o;
        o.kind = kind;
        o.a = a;
        o.b = b;
        o.value = value;
        network.observations.push_back(o);
    }
    void level(std::size_t a, std::size_t b) { read(Observation::Kind::height, a, b, p[b].y - p[a].y); }
    void plumb(std::size_t a, std::size_t b) { read(Observation::Kind::sideways, a, b, p[b].x - p[a].x); }
};

// Lettered from the sill: A lower left.
const std::vector<Vec2> kFromSill{{0.0, 0.0}, {900.0, -6.0}, {895.0, 1200.0}, {-3.0, 1205.0}};
// The same opening lettered from the head: A upper right.
const std::vector<Vec2> kFromHead{{895.0, 1200.0}, {-3.0, 1205.0}, {0.0, 0.0}, {900.0, -6.0}};
// From the right-hand side up.
const std::vector<Vec2> kFromSide{{900.0, -6.0}, {895.0, 1200.0}, {-3.0, 1205.0}, {0.0, 0.0}};

bool stands_as(const NetworkFit& fit, const std::vector<Vec2>& p) {
    for (std::size_t c = 0; c < p.size(); ++c) {
        if (!(length((fit.points_mm[c] - fit.points_mm[0]) - (p[c] - p[0])) < 1e-6)) return false;
    }
    return true;
}

}  // namespace

TEST_CASE("Readings against level that are far beyond their accuracy decide which way up") {
    for (const auto& [corners, sill] : {std::pair{kFromSill, 0U}, {kFromHead, 2U}, {kFromSide, 3U}}) {
        Wall wall(corners);
        wall.level(0, 1);
        wall.plumb(1, 2);
        const UprightFit upright = fit_upright(wall.network, false);
        CHECK(upright.way.by == WayUp::By::readings);
        CHECK(upright.way.sill == sill);
        CHECK(stands_as(upright.fit, corners));
        CHECK(upright.way.decides.value_or(kDecided) >= kDecided);
    }
}

TEST_CASE("A single reading against level cannot decide: the letters start at the sill, and what is said counts") {
    Wall wall(kFromHead);
    wall.level(0, 1);  // a half turn and a small turn read the same
    const UprightFit unsaid = fit_upright(wall.network, false);
    CHECK(unsaid.way.by == WayUp::By::order);
    CHECK(*unsaid.way.decides < kDecided);
    CHECK(unsaid.way.sill == 0);
    for (const std::array<std::size_t, 2> said : {std::array<std::size_t, 2>{1, 0}, std::array<std::size_t, 2>{2, 3}}) {  // AB head, CD sill
        wall.network.sills = {said};
        const UprightFit upright = fit_upright(wall.network, false);
        CHECK(upright.way.by == WayUp::By::said);
        CHECK(upright.way.sill == 2);
        CHECK(stands_as(upright.fit, kFromHead));
    }
}

TEST_CASE("What is said counts against readings that say otherwise, and how much worse they fit is told") {
    Wall wall(kFromSill);
    wall.level(0, 1);
    wall.plumb(1, 2);
    wall.network.sills = {{2, 3}};
    const UprightFit upright = fit_upright(wall.network, false);
    CHECK(upright.way.by == WayUp::By::said);
    CHECK(upright.way.sill == 2);
    CHECK(*upright.way.decides <= -kDecided);
}

TEST_CASE("Where letters run clockwise the ring is kept mirrored, and its sill runs to the left") {
    // The opening of kFromSill from the lower right, clockwise; kept with y turned round.
    std::vector<Vec2> kept;
    for (const std::size_t c : {1U, 0U, 3U, 2U}) kept.push_back({kFromSill[c].x, 0.0 - kFromSill[c].y});
    for (const bool decided : {true, false}) {
        Wall wall(kept);
        wall.level(0, 1);
        if (decided) wall.plumb(1, 2);
        const UprightFit upright = fit_upright(wall.network, true);
        CHECK((upright.way.by == WayUp::By::readings) == decided);
        CHECK(upright.way.sill == 0);
        CHECK(stands_as(upright.fit, kept));
    }
}

TEST_CASE("Without a level AB lies along +x, or the other way round where it is said to be the head") {
    Wall wall({{0.0, 0.0}, {900.0, 0.0}, {895.0, 1200.0}, {-3.0, 1205.0}});
    const UprightFit plain = fit_upright(wall.network, false);
    CHECK(plain.way.by == WayUp::By::order);
    CHECK_FALSE(plain.way.decides);
    CHECK(stands_as(plain.fit, wall.p));
    wall.network.sills = {{1, 0}};
    const UprightFit said = fit_upright(wall.network, false);
    CHECK(said.way.sill == 2);
    std::vector<Vec2> turned;
    for (const Vec2 p : wall.p) turned.push_back({0.0 - p.x, 0.0 - p.y});
    CHECK(stands_as(said.fit, turned));
    CHECK(said.fit.chi_square == plain.fit.chi_square);
}

TEST_CASE("Of an opening with a step the sill is the lowest side that lies") {
    Wall wall({{0.0, 300.0}, {500.0, 302.0}, {498.0, 0.0}, {1200.0, -4.0}, {1201.0, 900.0}, {-2.0, 905.0}});
    wall.level(2, 3);
    wall.plumb(3, 4);
    wall.level(0, 1);
    CHECK(fit_upright(wall.network, false).way.sill == 2);
    Wall triangle({{0.0, 800.0}, {20.0, 0.0}, {900.0, 810.0}});  // point down: the side that leans least
    triangle.plumb(0, 1);
    triangle.level(2, 0);
    CHECK(fit_upright(triangle.network, false).way.sill == 1);
}

TEST_CASE("A level laid across what stands leaves no fit near the half turn") {
    Wall wall(kFromSide);
    wall.level(0, 1);  // 1206 from A up to B, to either side of plumb
    const UprightFit upright = fit_upright(wall.network, false);
    CHECK(upright.way.by == WayUp::By::readings);
    CHECK_FALSE(upright.way.decides);
    CHECK(upright.way.sill == 3);
}
