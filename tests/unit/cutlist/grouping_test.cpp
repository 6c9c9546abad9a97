#include "cutlist/grouping.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>
#include <vector>

#include "support/catch.hpp"
#include "support/random.hpp"
#include "support/ring.hpp"

using namespace boardring;
using boardring_test::outline_through;
using boardring_test::project_for;
using boardring_test::Random;
using boardring_test::regular_ring;

namespace {

constexpr std::array kTurnings{Turning::as_first, Turning::top_to_bottom, Turning::edge_for_edge, Turning::end_for_end};

Frame frame_of(const Project& project, const Outline& outline) {
    const Result<Frame> made = build_frame(project, outline);
    REQUIRE(made.ok());
    return made.value();
}

// The piece as a solid: corners of the board and of the wood its laps leave away, as points in space (x along, y outward, z up).
// The second construction: turning is a rotation of these points and knows nothing of ends, edges and halves.
using Point = std::array<double, 3>;

std::vector<Point> solid(const Piece& piece) {
    // Inside edge from x = 0; the outside mark of the first end lies `run` before it.
    const double first_run = piece.width_mm * std::tan(radians(piece.ends[0].saw_deg));
    const std::array<double, 2> inside{0.0, piece.inside_mm};
    const std::array<double, 2> outside{-first_run, -first_run + piece.outside_mm};
    std::vector<Point> points;
    const auto wedge = [&](double inside_x, double outside_x, double low, double high) {
        for (const double z : {low, high}) {
            points.push_back({inside_x, 0.0, z});
            points.push_back({outside_x, piece.width_mm, z});
        }
    };
    for (std::size_t e = 0; e < 2; ++e) {
        wedge(inside[e], outside[e], 0.0, piece.height_mm);
        if (!piece.ends[e].lap) continue;
        const PieceLap& lap = *piece.ends[e].lap;
        const double into = e == 0 ? 1.0 : -1.0;
        const double low = lap.keeps_upper ? 0.0 : piece.height_mm - lap.depth_mm;
        wedge(inside[e], outside[e], low, low + lap.depth_mm);
        wedge(inside[e] + into * lap.inside_mm, outside[e] + into * lap.outside_mm, low, low + lap.depth_mm);
    }
    return points;
}

// Half a turn about the axis the turning is defined by: the other two coordinates change sign.
std::vector<Point> rotated(std::vector<Point> points, Turning turning) {
    for (Point& p : points) {
        if (turning == Turning::top_to_bottom) p = {-p[0], p[1], -p[2]};
        if (turning == Turning::edge_for_edge) p = {p[0], -p[1], -p[2]};
        if (turning == Turning::end_for_end) p = {-p[0], -p[1], p[2]};
    }
    return points;
}

// Moved to the origin and sorted, so that solids can be compared point by point.
std::vector<Point> laid_down(std::vector<Point> points) {
    Point low = points.front();
    for (const Point& p : points) {
        for (std::size_t i = 0; i < 3; ++i) low[i] = std::min(low[i], p[i]);
    }
    for (Point& p : points) {
        for (std::size_t i = 0; i < 3; ++i) p[i] = std::round((p[i] - low[i]) * 1e6) / 1e6;
    }
    std::sort(points.begin(), points.end());
    return points;
}

double largest_difference(const std::vector<Point>& a, const std::vector<Point>& b) {
    REQUIRE(a.size() == b.size());
    double worst = 0.0;
    for (std::size_t k = 0; k < a.size(); ++k) {
        for (std::size_t i = 0; i < 3; ++i) worst = std::max(worst, std::abs(a[k][i] - b[k][i]));
    }
    return worst;
}

PieceEnd random_end(Random& random) {
    PieceEnd end;
    end.saw_deg = random.between(-70.0, 70.0);
    if (random.chance(0.5)) end.lap = PieceLap{random.between(5.0, 20.0), random.between(20.0, 60.0), random.between(20.0, 60.0), random.chance(0.5)};
    return end;
}

Piece random_piece(Random& random) {
    Piece piece;
    piece.width_mm = random.between(15.0, 90.0);
    piece.height_mm = random.between(20.0, 150.0);
    piece.inside_mm = random.between(600.0, 2000.0);
    piece.ends = {random_end(random), random_end(random)};
    piece.outside_mm = piece.inside_mm + piece.width_mm * (std::tan(radians(piece.ends[0].saw_deg)) + std::tan(radians(piece.ends[1].saw_deg)));
    return piece;
}

std::vector<std::vector<std::size_t>> members_of(const std::vector<PieceGroup>& groups) {
    std::vector<std::vector<std::size_t>> all;
    for (const PieceGroup& group : groups) {
        all.emplace_back();
        for (const GroupMember& member : group.members) all.back().push_back(member.board + 1);
    }
    return all;
}

// A door casing: two legs and a head, flat, square at the floor.
Outline casing_outline() { return outline_through({{0, 0}, {0, 2000}, {-800, 2000}, {-800, 0}}, false); }

}  // namespace

TEST_CASE("turning a piece is rotating the solid", "[unit][cutlist]") {
    Random random(11);
    for (int i = 0; i < 2000; ++i) {
        const Piece piece = random_piece(random);
        for (const Turning turning : kTurnings) {
            const auto by_name = laid_down(solid(turned(piece, turning)));
            const auto by_rotation = laid_down(rotated(solid(piece), turning));
            REQUIRE(largest_difference(by_name, by_rotation) < 3e-6);
        }
    }
}

TEST_CASE("a turning undoes itself and two different ones make the third", "[unit][cutlist]") {
    Random random(12);
    for (int i = 0; i < 2000; ++i) {
        const Piece piece = random_piece(random);
        for (const Turning turning : kTurnings) REQUIRE(turned(turned(piece, turning), turning) == piece);
        const Piece two = turned(turned(piece, Turning::top_to_bottom), Turning::edge_for_edge);
        REQUIRE(two == turned(piece, Turning::end_for_end));
        REQUIRE(turned(two, Turning::end_for_end) == piece);
        REQUIRE(mirrored(mirrored(piece)) == piece);
    }
}

TEST_CASE("a board without laps is its own mirror image turned over, one with laps need not be", "[unit][cutlist]") {
    Random random(13);
    Piece piece = random_piece(random);
    for (PieceEnd& end : piece.ends) end.lap.reset();
    CHECK(turned(piece, Turning::top_to_bottom) == mirrored(piece));
    piece.ends[0].lap = PieceLap{10.0, 38.0, 38.0, true};
    for (const Turning turning : kTurnings) CHECK_FALSE(turned(piece, turning) == mirrored(piece));
}

TEST_CASE("a surface allows the turnings that keep what is seen in its place", "[unit][cutlist]") {
    CHECK(allowed_turnings(Surface::plain, Lie::flat).size() == 4);
    CHECK(allowed_turnings(Surface::plain, Lie::on_edge).size() == 4);
    CHECK(allowed_turnings(Surface::show_face, Lie::on_edge) == std::vector{Turning::as_first, Turning::top_to_bottom});
    CHECK(allowed_turnings(Surface::show_face, Lie::flat) == std::vector{Turning::as_first, Turning::end_for_end});
    CHECK(allowed_turnings(Surface::moulded, Lie::flat) == std::vector{Turning::as_first});
}

TEST_CASE("a hexagon with one thin board has three kinds of pieces, and 5 is 3 turned upside down", "[unit][cutlist]") {
    const Outline outline = regular_ring(6, 369.504);
    Project project = project_for(outline, {38.0, 38.0, 38.0, 28.0, 38.0, 38.0});
    project.courses = 2;
    const std::vector<PieceGroup> groups = group_boards(project, frame_of(project, outline));
    CHECK(members_of(groups) == std::vector<std::vector<std::size_t>>{{1, 2, 6}, {3, 5}, {4}});
    CHECK(groups[1].members[0].turning == Turning::as_first);
    CHECK(groups[1].members[1].turning == Turning::top_to_bottom);
    CHECK(groups[0].count == 6);
    CHECK(groups[2].count == 2);
    for (const PieceGroup& group : groups) CHECK_FALSE(group.mirror_of);
}

TEST_CASE("legs of a casing with a show face are lefts and rights, of plain wood they are one piece", "[unit][cutlist]") {
    const Outline outline = casing_outline();
    Project project = project_for(outline, {70.0});
    project.lie = Lie::flat;
    for (BoardAsked& board : project.boards) {
        board.width_mm = 70.0;
        board.thickness_mm = 18.0;
        board.stock = 0;
    }
    project.stock.emplace_back();
    SECTION("show face") {
        project.stock[0].surface = Surface::show_face;
        const std::vector<PieceGroup> groups = group_boards(project, frame_of(project, outline));
        CHECK(members_of(groups) == std::vector<std::vector<std::size_t>>{{1}, {2}, {3}});
        REQUIRE(groups[2].mirror_of);
        CHECK(*groups[2].mirror_of == 0);
        CHECK_FALSE(groups[1].mirror_of);
    }
    SECTION("moulded") {
        project.stock[0].surface = Surface::moulded;
        const std::vector<PieceGroup> groups = group_boards(project, frame_of(project, outline));
        CHECK(members_of(groups) == std::vector<std::vector<std::size_t>>{{1}, {2}, {3}});
        CHECK(groups[2].mirror_of == std::optional<std::size_t>{0});
    }
    SECTION("plain") {
        const std::vector<PieceGroup> groups = group_boards(project, frame_of(project, outline));
        CHECK(members_of(groups) == std::vector<std::vector<std::size_t>>{{1, 3}, {2}});
        CHECK(groups[0].members[1].turning == Turning::top_to_bottom);
    }
}

TEST_CASE("half-laps part pieces that only a mirror could make alike", "[unit][cutlist]") {
    // Every board keeps the lower half where it ends and the upper where it starts, so all six are one piece.
    const Outline hexagon = regular_ring(6, 500.0);
    Project project = project_for(hexagon, {38.0});
    for (JointAsked& joint : project.joints) joint.kind = JointKind::half_lap;
    const Frame frame = frame_of(project, hexagon);
    CHECK(group_boards(project, frame).size() == 1);

    // The halves of board 1 changed: upside down the ends change places and the halves change names, which is what it was before; about
    // the other axes the slopes lean the other way. It is the others' mirror image and no turning makes it the same.
    Frame changed = frame;
    for (BoardEnd& end : changed.boards[0].ends) end.lap->keeps_upper = !end.lap->keeps_upper;
    const std::vector<PieceGroup> handed = group_boards(project, changed);
    CHECK(members_of(handed) == std::vector<std::vector<std::size_t>>{{1}, {2, 3, 4, 5, 6}});
    CHECK(handed[1].mirror_of == std::optional<std::size_t>{0});

    // Only one end changed: both laps on one side, a piece of its own with no mirror image in the ring.
    changed = frame;
    changed.boards[0].ends[0].lap->keeps_upper = !changed.boards[0].ends[0].lap->keeps_upper;
    const std::vector<PieceGroup> one_end = group_boards(project, changed);
    REQUIRE(one_end.size() == 2);
    CHECK_FALSE(one_end[1].mirror_of);
}

TEST_CASE("at square corners a half-lapped board turned end for end is its own mirror image", "[unit][cutlist]") {
    const Outline square = regular_ring(4, 500.0);
    Project project = project_for(square, {38.0});
    for (JointAsked& joint : project.joints) joint.kind = JointKind::half_lap;
    Frame frame = frame_of(project, square);
    for (BoardEnd& end : frame.boards[0].ends) end.lap->keeps_upper = !end.lap->keeps_upper;
    const std::vector<PieceGroup> groups = group_boards(project, frame);
    REQUIRE(groups.size() == 1);
    CHECK(groups[0].members[1].turning == Turning::end_for_end);

    project.stock.emplace_back();
    project.stock[0].surface = Surface::show_face;  // on edge the outside face shows: not end for end
    for (BoardAsked& board : project.boards) board.stock = 0;
    CHECK(group_boards(project, frame).size() == 2);
}

TEST_CASE("like sizes of different stock are different pieces", "[unit][cutlist]") {
    const Outline square = regular_ring(4, 500.0);
    Project project = project_for(square, {38.0});
    project.stock.resize(2);
    project.boards[0].stock = 0;
    project.boards[1].stock = 1;
    CHECK(members_of(group_boards(project, frame_of(project, square))) == std::vector<std::vector<std::size_t>>{{1}, {2}, {3, 4}});
}

TEST_CASE("rounding never parts pieces and a hundredth of a millimetre always does", "[unit][cutlist]") {
    const Outline square = regular_ring(4, 500.0);
    const Project project = project_for(square, {38.0});
    Frame frame = frame_of(project, square);
    frame.boards[1].ends[1].inside_mm += 3e-7;
    frame.boards[2].ends[1].saw_deg += 4e-8;
    CHECK(group_boards(project, frame).size() == 1);
    frame.boards[1].ends[1].inside_mm += 0.01;
    CHECK(members_of(group_boards(project, frame)) == std::vector<std::vector<std::size_t>>{{1, 3, 4}, {2}});
}

TEST_CASE("sameness does not depend on where a grid would draw its lines", "[unit][cutlist]") {
    // Lengths astride every decimal boundary of the tolerance still meet their twin.
    Random random(14);
    const Outline square = regular_ring(4, 500.0);
    const Project project = project_for(square, {38.0});
    const Frame frame = frame_of(project, square);
    for (int i = 0; i < 2000; ++i) {
        Frame moved = frame;
        const double by = random.between(-1.0, 1.0);
        for (Board& board : moved.boards) {
            const double noise = random.between(-3e-7, 3e-7);
            board.ends[1].inside_mm += by + noise;
            board.ends[1].outside_mm += by + noise;
        }
        REQUIRE(group_boards(project, moved).size() == 1);
    }
}

TEST_CASE("a board that tapers is the same piece only where like ends meet like joints", "[unit][cutlist]") {
    const Outline outline = regular_ring(6, 370.0);
    Project project = project_for(outline, {38.0});
    // Boards 2 and 5 lie opposite; their thin ends point to B and F, or both to C and F.
    project.boards[1].taper_mm = -1.5;
    project.boards[4].taper_mm = -1.5;
    const std::vector<PieceGroup> round = group_boards(project, frame_of(project, outline));
    REQUIRE(members_of(round)[1] == std::vector<std::size_t>{2, 5});
    CHECK(round[1].members[1].turning == Turning::as_first);
    // Mirrored: board 5 is board 2 turned upside down, which leaves its straight face inside.
    project.boards[4].taper_mm = 1.5;
    const std::vector<PieceGroup> mirrored_ring = group_boards(project, frame_of(project, outline));
    REQUIRE(members_of(mirrored_ring)[1] == std::vector<std::size_t>{2, 5});
    CHECK(mirrored_ring[1].members[1].turning == Turning::top_to_bottom);
    // Moulded boards are not turned.
    project.stock.push_back({});
    project.stock.front().surface = Surface::moulded;
    for (BoardAsked& board : project.boards) board.stock = 0;
    CHECK(members_of(group_boards(project, frame_of(project, outline))).size() > mirrored_ring.size());
}

TEST_CASE("turned so that its other face lies inside, a board that tapers is another piece", "[unit][cutlist]") {
    Piece piece;
    piece.inside_mm = piece.outside_mm = 500.0;
    piece.ends[0].width_mm = 38.0;
    piece.ends[1].width_mm = 38.0;
    CHECK(turned(piece, Turning::edge_for_edge) == piece);
    piece.ends[1].width_mm = 36.6;
    CHECK_FALSE(turned(piece, Turning::edge_for_edge) == piece);
    for (const Turning turning : kTurnings) CHECK(turned(turned(piece, turning), turning) == piece);
}
