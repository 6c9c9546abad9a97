// Mitres against values printed outside this project. Each table names its source and how far its digits carry.
#include <cmath>
#include <cstddef>
#include <vector>

#include "base/angle.hpp"
#include "frame/frame.hpp"
#include "joinery/mitre.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"

using namespace boardring;
using boardring_test::project_for;
using boardring_test::regular_ring;

namespace {

double regular_corner_deg(std::size_t corners) {
    return 180.0 - 360.0 / static_cast<double>(corners);
}

EndCut equal_mitre(std::size_t corners, double width_mm) {
    const Result<JointCuts> made = mitre(180.0 - regular_corner_deg(corners), {0.0, width_mm}, {0.0, width_mm});
    return made.value().after;
}

}  // namespace

// Fred T. Hodgson, "ABC of the Steel Square and Its Uses", text at Fig. 21 (read): 12 in on the blade against, on the tongue,
// 4 31/32 in for the octagon and 6 15/16 in for the hexagon. Tolerance: half of the printed fraction.
TEST_CASE("the steel square's mitres of octagon and hexagon are ours, 12 on the blade", "[reference][steel-square]") {
    CHECK_THAT(equal_mitre(8, 12.0).run_mm, within_mm(4.0 + 31.0 / 32.0, 1.0 / 64.0));
    CHECK_THAT(equal_mitre(6, 12.0).run_mm, within_mm(6.0 + 15.0 / 16.0, 1.0 / 32.0));
    // The same book's working figures 5 and 7 cost 0.120 and 0.256 degrees: worked out from the table, not printed in it.
    CHECK_THAT(degrees(std::atan(5.0 / 12.0)) - equal_mitre(8, 12.0).saw_deg, within_deg(0.120, 5e-4));
    CHECK_THAT(degrees(std::atan(7.0 / 12.0)) - equal_mitre(6, 12.0).saw_deg, within_deg(0.256, 5e-4));
}

// Compound-angle chart as printed in users' manuals of powered saws (two independent manuals read and agreeing; common practice),
// "mitre" M and "bevel" B, printed to 0.01 degree. Only its two ends are this project's case: pitch 0 is a frame of boards lying
// flat, cut by swinging to M; pitch 90 is boards standing on edge, cut by tilting to B.
TEST_CASE("flat frames and frames on edge have the slopes printed in the chart of compound angles",
          "[reference][compound-chart]") {
    struct Row {
        std::size_t corners;
        double swing_at_pitch_0;
    };
    for (const Row& row : {Row{4, 45.0}, Row{6, 30.0}, Row{8, 22.5}, Row{9, 20.0}}) {
        CAPTURE(row.corners);
        CHECK_THAT(equal_mitre(row.corners, 60.0).saw_deg, within_deg(row.swing_at_pitch_0, 0.005));
    }
    struct TiltRow {
        std::size_t corners;
        double tilt_at_pitch_90;
    };
    for (const TiltRow& row : {TiltRow{4, 45.0}, TiltRow{6, 30.0}}) {
        CAPTURE(row.corners);
        CHECK_THAT(equal_mitre(row.corners, 38.0).saw_deg, within_deg(row.tilt_at_pitch_90, 0.005));
    }
}

// The rule only is published (E. Joyce, "The Technique of Furniture Making", pp. 351-352; "Miter Cutting" in the Cyclopedia of
// Architecture, Carpentry and Building): equal widths, the mitre halves the corner and both cuts are equally long; unequal
// widths, it does not. The numbers are derived: from member 1's edge atan2(w1 sin t, w2 + w1 cos t) for a corner angle t.
TEST_CASE("members of unequal width do not halve the corner, yet their cuts are equally long", "[reference][unequal-mitre]") {
    for (const double corner : {60.0, 90.0, 108.0, 120.0, 135.0}) {
        for (const double w2 : {12.0, 38.0, 60.0}) {
            const double w1 = 38.0;
            const Result<JointCuts> made = mitre(180.0 - corner, {0.0, w1}, {0.0, w2});
            const EndCut& one = made.value().before;
            const EndCut& two = made.value().after;
            const double t = radians(corner);
            const double edge_angle = degrees(std::atan2(w1 * std::sin(t), w2 + w1 * std::cos(t)));
            CAPTURE(corner, w2);
            CHECK_THAT(90.0 - one.saw_deg, within_deg(edge_angle, 1e-11));
            CHECK_THAT(90.0 - two.saw_deg, within_deg(corner - edge_angle, 1e-11));
            CHECK_THAT(one.face_mm, within_mm(w1 / std::sin(radians(edge_angle)), 1e-10));
            CHECK_THAT(two.face_mm, within_mm(one.face_mm, 1e-12));
            CHECK((std::abs(one.saw_deg - 0.5 * (180.0 - corner)) < 1e-9) == (w1 == w2));
        }
    }
    // 3 beside 4 at a square corner: 36.870 and 53.130 from the edges.
    const Result<JointCuts> made = mitre(90.0, {0.0, 30.0}, {0.0, 40.0});
    CHECK_THAT(90.0 - made.value().before.saw_deg, within_deg(36.870, 5e-4));
    CHECK_THAT(90.0 - made.value().after.saw_deg, within_deg(53.130, 5e-4));
}

// The maker's own way at a corner of 108 degrees with a 90 board beside a 45 board (from first principles,
// docs/theory/mitre.md): a square line through the inside mark, then w tan(I - 90) into the board along the outside edge, then
// w_other / cos(I - 90) back.
TEST_CASE("the hand method at 108 degrees steps to the same marks", "[reference][hand-method]") {
    const Result<JointCuts> made = mitre(72.0, {0.0, 90.0}, {0.0, 45.0});
    const EndCut& wide = made.value().before;
    const EndCut& slim = made.value().after;
    CHECK_THAT(wide.square_first_mm, within_mm(29.243, 5e-4));
    CHECK_THAT(wide.square_second_mm, within_mm(47.316, 5e-4));
    CHECK_THAT(slim.square_first_mm, within_mm(14.621, 5e-4));
    CHECK_THAT(slim.square_second_mm, within_mm(94.632, 5e-4));
    CHECK_THAT(wide.inside_mm + wide.square_first_mm - wide.square_second_mm, within_mm(wide.outside_mm, 1e-12));
    CHECK_THAT(slim.inside_mm + slim.square_first_mm - slim.square_second_mm, within_mm(slim.outside_mm, 1e-12));
    CHECK_THAT(wide.saw_deg, within_deg(11.355, 5e-4));
    CHECK_THAT(slim.saw_deg, within_deg(60.645, 5e-4));
}

// Scenarios worked out by a separate script before this engine was written; all sizes invented.
TEST_CASE("a ring of twelve for a turned clock: long and short points and slope", "[reference][scenario]") {
    // Outside radius 152 on the flats, 48 wide: long point 81.5, short point 55.7 (inside flats at 152 - 48 = 104), slope 15.
    const Outline outline = regular_ring(12, 2.0 * 104.0 * std::tan(kPi / 12.0));
    Project project = project_for(outline, {48.0});
    const Result<Frame> made = build_frame(project, outline);
    REQUIRE(made.ok());
    const Board& board = made.value().boards[0];
    CHECK_THAT(board.outside_length_mm(), within_mm(81.5, 0.05));
    CHECK_THAT(board.inside_length_mm(), within_mm(55.7, 0.05));
    CHECK_THAT(board.ends[0].saw_deg, within_deg(15.0, 1e-12));
    // "joint length 49.7"
    CHECK_THAT(board.ends[0].face_mm, within_mm(49.7, 0.05));
}

TEST_CASE("a half-octagon against a wall: full and half sides", "[reference][scenario]") {
    // Outside flats 1200, boards 32 on edge, wall ends square: full 497.1 outside / 470.5 inside, half 248.5 / 235.3, slopes
    // 22.5.
    const double side = 1200.0 * std::tan(kPi / 8.0);
    std::vector<Vec2> points = {{-600.0, 600.0}};
    double heading = -90.0;
    for (const double length : {0.5 * side, side, side, side, 0.5 * side}) {
        points.push_back(points.back() + length * unit_deg(heading));
        heading += 45.0;
    }
    // Standing with the back to the wall at y = 600: down the left side, across the front, up the right side.
    const Outline outline = boardring_test::outline_through(points, false);
    Project project = project_for(outline, {32.0});
    project.outline.line = OutlineLine::outside;
    const Result<Frame> made = build_frame(project, outline);
    REQUIRE(made.ok());
    const std::vector<Board>& boards = made.value().boards;
    CHECK_THAT(boards[1].outside_length_mm(), within_mm(497.1, 0.05));
    CHECK_THAT(boards[1].inside_length_mm(), within_mm(470.5, 0.06));
    CHECK_THAT(boards[0].outside_length_mm(), within_mm(248.5, 0.05));
    CHECK_THAT(boards[0].inside_length_mm(), within_mm(235.3, 0.05));
    CHECK_THAT(boards[1].ends[0].saw_deg, within_deg(22.5, 1e-9));
    // Both free ends on one line, 1200 apart.
    CHECK_THAT(points.back().y, within_mm(600.0, 1e-9));
    CHECK_THAT(points.back().x, within_mm(600.0, 1e-9));
}

TEST_CASE("a triangle of corner shelf: slopes at the wall and at the sharp points", "[reference][scenario]") {
    // Corner 91.2, legs 350: the others 44.4 each, slopes 44.4 and 67.8, inside edges 144, 144 and 206, boards 60 wide.
    const std::vector<Vec2> points = {{0.0, 0.0}, {350.0, 0.0}, 350.0 * unit_deg(91.2)};
    const Outline outline = boardring_test::outline_through(points);
    Project project = project_for(outline, {60.0});
    project.outline.line = OutlineLine::outside;
    const Result<Frame> made = build_frame(project, outline);
    REQUIRE(made.ok());
    const std::vector<Board>& boards = made.value().boards;
    CHECK_THAT(outline.sides_mm[1], within_mm(500.1, 0.05));
    CHECK_THAT(boards[0].ends[0].saw_deg, within_deg(44.4, 0.05));
    CHECK_THAT(boards[0].ends[1].saw_deg, within_deg(67.8, 1e-9));
    CHECK_THAT(boards[0].inside_length_mm(), within_mm(144.0, 0.5));
    CHECK_THAT(boards[2].inside_length_mm(), within_mm(144.0, 0.5));
    CHECK_THAT(boards[1].inside_length_mm(), within_mm(206.0, 0.5));
}

TEST_CASE("a mixed-thickness pentagon bed: the slopes on both sides of every corner", "[reference][scenario]") {
    // Corners 108 115 97 122 98, boards 47 38 38 25 47: before / after the corner 36.0/36.0 23.1/41.9 41.5/41.5 8.6/49.4
    // 60.4/21.6.
    const std::vector<double> corner = {108.0, 115.0, 97.0, 122.0, 98.0};
    const std::vector<double> width = {47.0, 38.0, 38.0, 25.0, 47.0};
    const std::vector<std::vector<double>> slopes = {{36.0, 36.0}, {23.1, 41.9}, {41.5, 41.5}, {8.6, 49.4}, {60.4, 21.6}};
    for (std::size_t c = 0; c < 5; ++c) {
        const Result<JointCuts> made = mitre(180.0 - corner[c], {0.0, width[(c + 4) % 5]}, {0.0, width[c]});
        CAPTURE(c);
        CHECK_THAT(made.value().before.saw_deg, within_deg(slopes[c][0], 0.05));
        CHECK_THAT(made.value().after.saw_deg, within_deg(slopes[c][1], 0.05));
    }
}
