#include "frame/overlap.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <vector>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/random.hpp"
#include "support/ring.hpp"

using namespace boardring;
using boardring_test::outline_through;
using boardring_test::project_for;
using boardring_test::Random;
using boardring_test::regular_ring;

namespace {

std::vector<Vec2> rectangle(double x, double y, double wide, double high) {
    return {{x, y}, {x + wide, y}, {x + wide, y + high}, {x, y + high}};
}

std::vector<Vec2> placed(std::vector<Vec2> polygon, double turn_deg, Vec2 by) {
    for (Vec2& p : polygon) p = turned(p, cos_deg(turn_deg), sin_deg(turn_deg)) + by;
    return polygon;
}

}  // namespace

TEST_CASE("two crossing rectangles share their common rectangle", "[unit][overlap]") {
    CHECK(overlap_area_mm2(rectangle(0.0, 0.0, 300.0, 20.0), rectangle(100.0, -50.0, 30.0, 200.0)) == 600.0);
    CHECK(overlap_area_mm2(rectangle(100.0, -50.0, 30.0, 200.0), rectangle(0.0, 0.0, 300.0, 20.0)) == 600.0);
    CHECK(overlap_area_mm2(rectangle(0.0, 0.0, 300.0, 20.0), rectangle(10.0, 5.0, 10.0, 10.0)) == 100.0);
    CHECK(overlap_area_mm2(rectangle(0.0, 0.0, 300.0, 20.0), rectangle(0.0, 0.0, 300.0, 20.0)) == 6000.0);
}

TEST_CASE("apart or touching along an edge or at a corner is no overlap", "[unit][overlap]") {
    CHECK(overlap_area_mm2(rectangle(0.0, 0.0, 300.0, 20.0), rectangle(301.0, 0.0, 30.0, 20.0)) == 0.0);
    CHECK(overlap_area_mm2(rectangle(0.0, 0.0, 300.0, 20.0), rectangle(50.0, 20.0, 30.0, 200.0)) == 0.0);
    CHECK(overlap_area_mm2(rectangle(0.0, 0.0, 300.0, 20.0), rectangle(300.0, 20.0, 30.0, 200.0)) == 0.0);
}

TEST_CASE("a T of two touching boards stays apart at any turn, here and a metre away", "[unit][overlap]") {
    // The case in which general polygon libraries go wrong: full contact along an edge, coordinates not round.
    Random random(41);
    double worst = 0.0;
    for (int i = 0; i < 20000; ++i) {
        const double turn = random.between(0.0, 360.0);
        const Vec2 by = random.between(0.0, 1000.0) * unit_deg(random.between(0.0, 360.0));
        const std::vector<Vec2> head = placed(rectangle(0.0, 0.0, 300.0, 18.3), turn, by);
        const std::vector<Vec2> leg = placed(rectangle(138.65, 18.3, 22.7, 231.7), turn, by);
        worst = std::max(worst, overlap_area_mm2(head, leg) / (22.7 * 231.7));
        worst = std::max(worst, std::abs(overlap_area_mm2(head, head) / (300.0 * 18.3) - 1.0));
    }
    INFO("worst " << worst);
    CHECK(worst < 1e-12);
}

TEST_CASE("overlaps are found in board order, half-laps and boards without an edge left out", "[unit][overlap]") {
    const Outline outline = outline_through({{0.0, 0.0}, {900.0, 0.0}, {900.0, 600.0}, {0.0, 600.0}});
    Project project = project_for(outline, {38.0});
    for (JointAsked& joint : project.joints) joint.kind = JointKind::half_lap;
    Frame frame = build_frame(project, outline).value();
    CHECK(overlapping_boards(frame).empty());

    // The same boards without their laps' record share wood at all four corners.
    for (Board& board : frame.boards) {
        for (BoardEnd& end : board.ends) end.lap.reset();
    }
    const std::vector<Overlap> found = overlapping_boards(frame);
    REQUIRE(found.size() == 4);
    CHECK((found[0].first == 0 && found[0].second == 1));
    CHECK((found[1].first == 0 && found[1].second == 3));
    CHECK((found[2].first == 1 && found[2].second == 2));
    CHECK((found[3].first == 2 && found[3].second == 3));
    for (const Overlap& overlap : found) CHECK_THAT(overlap.area_mm2, WithinAbs(38.0 * 38.0, 1e-9));

    std::swap(frame.boards[0].ends[0].outside_mm, frame.boards[0].ends[1].outside_mm);
    CHECK(overlapping_boards(frame).size() == 2);
}

TEST_CASE("boards that share less than one part in a thousand million of the smaller do not count, those that share more do", "[unit][overlap]") {
    // Board 2 moved in along board 1's mitred face by d: what they share is about d 38, and a hundred-thousandth of the square
    // millimetre is the 1e-9 of a board of 34200.
    const Outline outline = outline_through({{0.0, 0.0}, {900.0, 0.0}, {900.0, 600.0}, {0.0, 600.0}});
    const Frame frame = build_frame(project_for(outline, {38.0}), outline).value();
    for (const double moved_mm : {1e-9, 1e-8, 1e-7, 1e-5, 1e-3}) {
        Frame pushed = frame;
        for (BoardEnd& end : pushed.boards[1].ends) {
            end.inside_mm -= moved_mm;
            end.outside_mm -= moved_mm;
        }
        const std::vector<Overlap> found = overlapping_boards(pushed);
        CAPTURE(moved_mm);
        CHECK(found.size() == (moved_mm > 1e-6 ? 1U : 0U));
        for (const Overlap& o : found) CHECK_THAT(o.area_mm2, WithinAbs(moved_mm * 38.0, 0.01 * moved_mm * 38.0));
    }
}

TEST_CASE("boards thinner than paper that touch do not overlap however far off they stand, whichever way", "[unit][overlap]") {
    Random random(42);
    for (int round = 0; round < 400; ++round) {
        const Vec2 at = 1e7 * unit_deg(90.0 * (round % 4));
        std::vector<Vec2> corners;
        const std::size_t n = 3 + random.index(6);
        for (std::size_t c = 0; c < n; ++c) {
            const double deg = 360.0 / static_cast<double>(n) * (static_cast<double>(c) + random.between(-0.2, 0.2));
            corners.push_back(at + random.between(400.0, 900.0) * unit_deg(deg));
        }
        const Outline outline = outline_through(corners);
        const Frame frame = build_frame(project_for(outline, {0.01, 0.02}), outline).value();
        CAPTURE(round);
        CHECK(overlapping_boards(frame).empty());
    }
}

TEST_CASE("the boards of a mitred ring tile the band, and a wrong mark shows", "[unit][overlap]") {
    const Outline outline = regular_ring(7, 400.0);
    Frame frame = build_frame(project_for(outline, {38.0, 28.0, 45.0}), outline).value();
    CHECK(tiling_error(frame) < 1e-12);
    frame.boards[2].ends[0].outside_mm += 0.001;
    CHECK(tiling_error(frame) > 1e-7);
}

TEST_CASE("boards that taper tile their band too, wherever the ring stands", "[unit][overlap]") {
    for (const Vec2 at : {Vec2{0.0, 0.0}, Vec2{900.0, -400.0}}) {
        std::vector<Vec2> corners = regular_ring(6, 400.0).corners_mm;
        for (Vec2& p : corners) p = p + at;
        const Outline outline = outline_through(corners);
        Project project = project_for(outline, {38.0, 28.0, 45.0});
        project.boards[1].taper_mm = -1.5;
        project.boards[4].taper_mm = 2.0;
        Frame frame = build_frame(project, outline).value();
        CHECK(tiling_error(frame) < 1e-12);
        frame.boards[4].taper_mm += 0.001;
        CHECK(tiling_error(frame) > 1e-8);
    }
}

TEST_CASE("the search for overlaps grows no faster than n log n", "[unit][overlap]") {
    const auto seconds = [](std::size_t n) {
        const Outline outline = regular_ring(n, 500.0);
        const Frame frame = build_frame(project_for(outline, {38.0}), outline).value();
        double least = 1e9;
        for (int again = 0; again < 3; ++again) {
            const auto begin = std::chrono::steady_clock::now();
            CHECK(overlapping_boards(frame).empty());
            least = std::min(least, std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count());
        }
        return least / static_cast<double>(n);
    };
    // 64 times as many boards: n log n costs 1.7 times as much a board, caches some more; all pairs would cost 64 times.
    const double few = seconds(1000);
    const double many = seconds(64000);
    INFO("a board costs " << few * 1e9 << " and " << many * 1e9 << " ns");
    CHECK(many < 10.0 * few);
}
