// Boards that taper, against a second construction: their true faces laid out as lines in the plan and met with one another in long
// double, no width, formula or angle of the engine's in between. BOARDRING_FULL=1 takes ten times as many.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <vector>

#include "base/angle.hpp"
#include "closure/closure.hpp"
#include "frame/frame.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"
#include "support/ring.hpp"
#include "support/world_frame.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

std::uint64_t rings() { return std::getenv("BOARDRING_FULL") != nullptr ? 20000 : 2000; }

constexpr double kMostTaper = 0.5;  // of the width, from end to end

// A ring whose sides carry one straight face of their boards; the other faces are leaning lines.
struct Tapered {
    Outline outline;
    std::vector<double> width_mm, per_mm;  // the leaning face lies width + per x from the straight one, x from the first corner
    bool leaning_outside = true;
};

Tapered tapered_ring(std::uint64_t seed) {
    Random random(seed);
    const std::size_t n = 3 + random.index(8);
    std::vector<Vec2> corners;
    for (std::size_t c = 0; c < n; ++c) {
        const double at = 360.0 * (static_cast<double>(c) + 0.5 * random.unit()) / static_cast<double>(n);
        corners.push_back(random.between(700.0, 1000.0) * unit_deg(at));
    }
    Tapered ring{outline_through(corners), {}, {}, random.chance(0.5)};
    for (std::size_t k = 0; k < n; ++k) {
        ring.width_mm.push_back(random.between(20.0, 60.0));
        ring.per_mm.push_back(random.between(-kMostTaper, kMostTaper) * ring.width_mm.back() / ring.outline.sides_mm[k]);
    }
    return ring;
}

Line straight_face(const Tapered& ring, std::size_t k) {
    const Vec2 a = ring.outline.corners_mm[k], b = ring.outline.corners_mm[ring.outline.corner_after(k)];
    const auto wide = [](double v) { return static_cast<long double>(v); };
    const long double x = wide(b.x) - wide(a.x), y = wide(b.y) - wide(a.y), size = std::hypot(x, y);
    return {{wide(a.x), wide(a.y)}, {x / size, y / size}};
}

Line leaning_face(const Tapered& ring, std::size_t k) {
    const Line side = straight_face(ring, k);
    const long double out = ring.leaning_outside ? 1.0L : -1.0L;  // right of the side's direction is outward
    const Point normal{out * side.along.y, -out * side.along.x};
    const auto w = static_cast<long double>(ring.width_mm[k]), s = static_cast<long double>(ring.per_mm[k]), size = std::hypot(1.0L, s);
    return {{side.at.x + w * normal.x, side.at.y + w * normal.y}, {(side.along.x + s * normal.x) / size, (side.along.y + s * normal.y) / size}};
}

long double along(const Line& line, const Point& p) { return (p.x - line.at.x) * line.along.x + (p.y - line.at.y) * line.along.y; }
// How far a point lies off a side, + to the side of its leaning face.
long double off(const Tapered& ring, const Line& line, const Point& p) {
    return (ring.leaning_outside ? 1.0L : -1.0L) * ((p.x - line.at.x) * line.along.y - (p.y - line.at.y) * line.along.x);
}

// Where the leaning faces meet, one for each corner.
std::vector<Point> far_corners(const Tapered& ring) {
    std::vector<Point> met;
    for (std::size_t c = 0; c < ring.width_mm.size(); ++c) met.push_back(meet(leaning_face(ring, ring.outline.board_before(c)), leaning_face(ring, c)));
    return met;
}

// Widths of board k at its two ends, each measured `into_mm` further into the board than its mark on the leaning face.
std::array<double, 2> measured(const Tapered& ring, const std::vector<Point>& far, std::size_t k, double into_mm) {
    const Line side = straight_face(ring, k);
    const long double first = off(ring, side, far[k]), second = off(ring, side, far[ring.outline.corner_after(k)]);
    const auto leaning = static_cast<long double>(into_mm * ring.per_mm[k]);
    return {static_cast<double>(first + leaning), static_cast<double>(second - leaning)};
}

// Some wood is left at every mark: very sharp corners lie beyond where a board has tapered to nothing.
bool has_wood(const Tapered& ring, const std::vector<Point>& far, double into_mm) {
    for (std::size_t k = 0; k < ring.width_mm.size(); ++k) {
        const std::array<double, 2> w = measured(ring, far, k, into_mm);
        if (std::min(w[0], w[1]) < 5.0 || std::max(w[0], w[1]) > 100.0) return false;
    }
    return true;
}

Project project_of(const Tapered& ring, const std::vector<Point>& far, double into_mm) {
    Project project = project_for(ring.outline, {1.0});
    project.outline.line = ring.leaning_outside ? OutlineLine::inside : OutlineLine::outside;
    for (std::size_t k = 0; k < ring.width_mm.size(); ++k) {
        const std::array<double, 2> w = measured(ring, far, k, into_mm);
        project.boards[k].thickness_mm = std::max(w[0], w[1]);
        project.boards[k].taper_mm = w[1] - w[0];
    }
    return project;
}

// The mark on the leaning face.
double leaning_mark(const Tapered& ring, const BoardEnd& end) { return ring.leaning_outside ? end.outside_mm : end.inside_mm; }
double straight_mark(const Tapered& ring, const BoardEnd& end) { return ring.leaning_outside ? end.inside_mm : end.outside_mm; }

double area(const std::vector<Vec2>& p) {
    double twice = 0.0;
    for (std::size_t i = 0; i < p.size(); ++i) twice += cross(p[i], p[(i + 1) % p.size()]);
    return 0.5 * twice;
}

}  // namespace

TEST_CASE("a mitre of boards that taper is exact: marks lie where their true faces meet, and the ring closes") {
    int built = 0;
    for (std::uint64_t seed = 1; seed <= rings(); ++seed) {
        const Tapered ring = tapered_ring(seed);
        const std::vector<Point> far = far_corners(ring);
        if (!has_wood(ring, far, 0.0)) continue;
        const Project project = project_of(ring, far, 0.0);
        const Result<Frame> made = build_frame(project, ring.outline);
        if (!made.ok()) continue;  // a board too short for its joints
        ++built;
        const Frame& frame = made.value();
        INFO("seed " << seed);
        double boards_mm2 = 0.0;
        for (std::size_t k = 0; k < frame.boards.size(); ++k) {
            const Board& board = frame.boards[k];
            const Line side = straight_face(ring, k);
            const std::size_t next = ring.outline.corner_after(k);
            REQUIRE(std::abs(leaning_mark(ring, board.ends[0]) - static_cast<double>(along(side, far[k]))) < 1e-9 * 1000.0);
            REQUIRE(std::abs(leaning_mark(ring, board.ends[1]) - static_cast<double>(along(side, far[next]))) < 1e-9 * 1000.0);
            REQUIRE(std::abs(straight_mark(ring, board.ends[0])) < 1e-9 * 1000.0);
            REQUIRE(std::abs(straight_mark(ring, board.ends[1]) - board.side_mm) < 1e-9 * 1000.0);
            // The slope is that of the cut from corner to corner, counted from square to the straight face.
            for (std::size_t e = 0; e < 2; ++e) {
                const double run = (e == 0 ? -1.0 : 1.0) * (board.ends[e].outside_mm - board.ends[e].inside_mm);
                REQUIRE(std::abs(board.ends[e].saw_deg - degrees(std::atan2(run, board.width_at(e)))) < 1e-9);
            }
            const std::array<Vec2, 4> plan = board.plan_mm();
            boards_mm2 += area({plan.begin(), plan.end()});
        }
        // The boards tile the band between the straight faces and the leaning ones.
        std::vector<Vec2> leaning;
        for (const Point& p : far) leaning.push_back({static_cast<double>(p.x), static_cast<double>(p.y)});
        const double band = std::abs(area(leaning) - area(ring.outline.corners_mm));
        REQUIRE(std::abs(boards_mm2 - band) < 1e-9 * band);
        const Closure closure = close_frame(project, frame);
        REQUIRE(closure.exact.spread->widest_mm < 1e-8);
        REQUIRE(std::abs(closure.exact.stiff->last.gap_out_mm) < 1e-8);
    }
    CHECK(built > static_cast<int>(rings() / 2));
}

TEST_CASE("widths measured away from the marks move them by no more than the bound") {
    double nearest = 0.0;
    for (std::uint64_t seed = 1; seed <= rings(); ++seed) {
        const Tapered ring = tapered_ring(seed);
        const std::vector<Point> far = far_corners(ring);
        const double into_mm = 40.0;
        if (!has_wood(ring, far, into_mm)) continue;
        const Result<Frame> made = build_frame(project_of(ring, far, into_mm), ring.outline);
        if (!made.ok()) continue;
        const Frame& frame = made.value();
        for (const Joint& joint : frame.joints) {
            const double bound = into_mm * (std::abs(ring.per_mm[joint.before]) + std::abs(ring.per_mm[joint.after])) /
                                 std::abs(sin_deg(ring.outline.turn_deg[joint.corner]));
            const double off = std::abs(leaning_mark(ring, frame.boards[joint.after].ends[0]) -
                                        static_cast<double>(along(straight_face(ring, joint.after), far[joint.corner])));
            INFO("seed " << seed << " corner " << joint.corner);
            REQUIRE(off <= bound * (1.0 + 1e-9) + 1e-9);
            nearest = std::max(nearest, off / bound);
        }
    }
    CHECK(nearest > 0.95);  // the bound is no larger than it need be
}
