#include "drawing/tiles.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "support/catch.hpp"
#include "support/random.hpp"

using namespace boardring;
using boardring_test::Random;

namespace {

double area(const std::vector<Vec2>& points) {
    double twice = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) twice += cross(points[i], points[(i + 1) % points.size()]);
    return 0.5 * twice;
}

}  // namespace

TEST_CASE("tiles cover the whole, overlap by what was asked, and stay inside it") {
    Random random(7);
    for (int round = 0; round < 2000; ++round) {
        const Vec2 size{random.between(50, 200), random.between(50, 300)};
        const Vec2 extent{random.between(10, 1500), random.between(10, 1500)};
        const double overlap = random.between(0, 30);
        const std::vector<Vec2> corners = tile_corners(extent, size, overlap);
        for (const Vec2 corner : corners) {
            CHECK(corner.x >= 0.0);
            CHECK((corner.x == 0.0 || corner.x + size.x <= extent.x + 1e-9));
            CHECK((corner.y == 0.0 || corner.y + size.y <= extent.y + 1e-9));
        }
        // Any square as large as the overlap lies in one tile whole.
        for (int i = 0; i < 20; ++i) {
            const Vec2 p{random.between(0, std::max(0.0, extent.x - overlap)), random.between(0, std::max(0.0, extent.y - overlap))};
            bool covered = false;
            for (const Vec2 corner : corners)
                covered = covered || (p.x >= corner.x - 1e-9 && p.y >= corner.y - 1e-9 && std::min(p.x + overlap, extent.x) <= corner.x + size.x + 1e-9 &&
                                      std::min(p.y + overlap, extent.y) <= corner.y + size.y + 1e-9);
            CHECK(covered);
        }
    }
    CHECK(tile_corners({100, 100}, {100, 100}, 10).size() == 1);
    CHECK(tile_corners({101, 100}, {100, 100}, 10).size() == 2);
    CHECK(tile_corners({190, 280}, {100, 100}, 10).size() == 2U * 3U);
}

TEST_CASE("windows that tile a drawing hold all of its lines and areas once, and each whole label at its place") {
    Random random(11);
    for (int round = 0; round < 300; ++round) {
        Drawing d;
        const Vec2 a{random.between(0, 300), random.between(0, 300)}, b{random.between(0, 300), random.between(0, 300)},
            c{random.between(0, 300), random.between(0, 300)};
        d.strokes.push_back({Pen::cut, {a, b, c}, true});
        d.regions.push_back({Fill::waste, {a, b, c}});
        double lengths = 0.0, areas = 0.0;
        for (double x = 0.0; x < 300.0; x += 100.0) {
            for (double y = 0.0; y < 300.0; y += 60.0) {
                const Drawing tile = cut_out(d, {x, y}, {x + 100.0, y + 60.0}, {-x, -y});
                for (const Stroke& stroke : tile.strokes) {
                    for (std::size_t i = 0; i + 1 < stroke.points.size() + (stroke.closed ? 1U : 0U); ++i)
                        lengths += length(stroke.points[(i + 1) % stroke.points.size()] - stroke.points[i]);
                    for (const Vec2 p : stroke.points) {
                        CHECK(p.x > -1e-9);
                        CHECK(p.x < 100.0 + 1e-9);
                        CHECK(p.y > -1e-9);
                        CHECK(p.y < 60.0 + 1e-9);
                    }
                }
                for (const Region& region : tile.regions) areas += std::abs(area(region.points));
            }
        }
        CHECK(std::abs(lengths - length(b - a) - length(c - b) - length(a - c)) < 1e-9);
        CHECK(std::abs(areas - std::abs(area({a, b, c}))) < 1e-8);
    }
    Drawing d;
    d.labels.push_back({{50, 50}, "A", 5.0, 0.0, Align::centre, false});
    d.circles.push_back({Pen::thin, Fill::blank, {20, 20}, 5.0});
    CHECK(cut_out(d, {0, 0}, {100, 100}, {7, 9}).labels.front().at == Vec2{57, 59});
    CHECK(cut_out(d, {0, 0}, {51, 100}, {0, 0}).labels.empty());
    CHECK(cut_out(d, {0, 0}, {100, 100}, {7, 9}).circles.front().centre == Vec2{27, 29});
    CHECK(cut_out(d, {16, 0}, {100, 100}, {0, 0}).circles.empty());
}
