#include "frame/frame.hpp"

#include <cmath>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "frame/overlap.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"
#include "unit/frame/made_frames.hpp"

using namespace boardring;
using boardring_test::frame_of;
using boardring_test::kEll;
using boardring_test::kRectangle;
using boardring_test::outline_through;
using boardring_test::project_for;
using boardring_test::regular_ring;

TEST_CASE("a hexagon of equal boards gets six equal boards", "[unit][frame]") {
    const Outline outline = regular_ring(6, 369.504);
    const Result<Frame> made = build_frame(project_for(outline, {38.0}), outline);
    REQUIRE(made.ok());
    CHECK(made.findings().empty());
    const Frame& frame = made.value();
    REQUIRE(frame.boards.size() == 6);
    REQUIRE(frame.joints.size() == 6);
    REQUIRE(frame.inside_mm.size() == 6);
    for (const Board& board : frame.boards) {
        CHECK_THAT(board.inside_length_mm(), within_mm(369.504, 1e-9));
        // 369.504 + 2 * 38 tan 30 = 413.383
        CHECK_THAT(board.outside_length_mm(), within_mm(413.382621, 1e-6));
        CHECK(board.ends[0].saw_deg == 30.0);
        CHECK(board.height_mm == 145.0);
    }
    for (std::size_t c = 0; c < 6; ++c) {
        const Joint& joint = frame.joints[c];
        CHECK(joint.corner == c);
        CHECK(joint.after == c);
        CHECK(joint.before == (c + 5) % 6);
        CHECK(frame.boards[joint.before].ends[1].mate == joint.after);
        CHECK(frame.boards[joint.after].ends[0].mate == joint.before);
        CHECK_THAT(length(joint.inner_mm - outline.corners_mm[c]), within_mm(0.0, 1e-9));
        CHECK_THAT(length(joint.outer_mm - joint.inner_mm), within_mm(43.878620, 1e-6));
        CHECK_THAT(joint.face_mm, within_mm(43.878620, 1e-6));
    }
    CHECK(tiling_error(frame) < 1e-12);
}

TEST_CASE("the planter of a 28 board among 38s has the slopes 30, 15.5 and 44.5", "[unit][frame]") {
    // 640 over the flats inside; board 4 is 28 thick. By hand: run of the 28 beside a 38 (38 - 28 cos 60) / sin 60 = 27.713, of
    // the 38 beside the 28 (28 - 38 cos 60) / sin 60 = 10.392, between 38s 21.939; inside side 640 tan 30 = 369.504.
    const Outline outline = regular_ring(6, 640.0 * std::tan(kPi / 6.0));
    const Frame frame = frame_of(project_for(outline, {38.0, 38.0, 38.0, 28.0, 38.0, 38.0}), outline);
    CHECK_THAT(frame.boards[3].ends[0].saw_deg, within_deg(44.5, 0.25));
    CHECK_THAT(frame.boards[2].ends[1].saw_deg, within_deg(15.5, 0.25));
    CHECK_THAT(frame.boards[2].ends[1].saw_deg + frame.boards[3].ends[0].saw_deg, within_deg(60.0, 1e-12));
    CHECK_THAT(frame.boards[3].outside_length_mm(), within_mm(369.504 + 2.0 * 27.713, 2e-3));
    CHECK_THAT(frame.boards[2].outside_length_mm(), within_mm(369.504 + 21.939 + 10.392, 2e-3));
    CHECK(tiling_error(frame) < 1e-12);
}

TEST_CASE("marks count from the board's first corner and the outline's line decides where the boards lie", "[unit][frame]") {
    const Outline outline = outline_through(kRectangle);
    Project project = project_for(outline, {40.0});
    struct Row {
        OutlineLine line;
        double offset, inside, outside;
    };
    for (const Row& row : {Row{OutlineLine::inside, 0.0, 0.0, -40.0}, Row{OutlineLine::outside, -40.0, 40.0, 0.0},
                           Row{OutlineLine::middle, -20.0, 20.0, -20.0}}) {
        project.outline.line = row.line;
        const Frame frame = frame_of(project, outline);
        CHECK(frame.boards[0].offset_mm == row.offset);
        CHECK_THAT(frame.boards[0].ends[0].inside_mm, within_mm(row.inside, 1e-12));
        CHECK_THAT(frame.boards[0].ends[0].outside_mm, within_mm(row.outside, 1e-12));
        CHECK_THAT(frame.boards[0].ends[1].inside_mm, within_mm(900.0 - row.inside, 1e-12));
        CHECK_THAT(frame.boards[0].ends[1].outside_mm, within_mm(900.0 - row.outside, 1e-12));
    }
}

TEST_CASE("a margin moves its own board outward and no other", "[unit][frame]") {
    const Outline outline = outline_through(kRectangle);
    Project project = project_for(outline, {40.0});
    project.outline.margin_mm[0] = 6.0;
    const Frame frame = frame_of(project, outline);
    CHECK_THAT(frame.boards[0].plan_mm()[0].y, within_mm(-6.0, 1e-12));
    CHECK_THAT(frame.boards[0].inside_length_mm(), within_mm(900.0, 1e-12));
    CHECK_THAT(frame.boards[1].inside_length_mm(), within_mm(606.0, 1e-12));
    CHECK_THAT(frame.boards[2].plan_mm()[0].y, within_mm(600.0, 1e-12));
}

TEST_CASE("an inward corner makes the inside edges the long ones", "[unit][frame]") {
    const Outline outline = outline_through(kEll);
    const Frame frame = frame_of(project_for(outline, {38.0, 28.0}), outline);
    const BoardEnd& end = frame.boards[2].ends[1];
    CHECK(end.corner == 3);
    CHECK(end.run_mm < 0.0);
    CHECK(end.saw_deg < 0.0);
    CHECK_THAT(frame.joints[3].interior_deg, within_deg(270.0, 1e-12));
    CHECK(tiling_error(frame) < 1e-12);
    CHECK(overlapping_boards(frame).empty());
}

TEST_CASE("at a butt the board on the longer side runs through unless another is named", "[unit][frame]") {
    const Outline outline = outline_through(kRectangle);
    Project project = project_for(outline, {38.0});
    for (JointAsked& joint : project.joints) joint.kind = JointKind::butt;
    Frame frame = frame_of(project, outline);
    // Boards 1 and 3 are 900 long, 2 and 4 are 600.
    CHECK(frame.joints[0].through == 0U);
    CHECK(frame.joints[1].through == 0U);
    CHECK(frame.joints[2].through == 2U);
    CHECK(frame.boards[0].ends[0].runs_through);
    CHECK_FALSE(frame.boards[1].ends[0].runs_through);
    CHECK_THAT(frame.boards[0].outside_length_mm(), within_mm(976.0, 1e-9));
    CHECK_THAT(frame.boards[1].outside_length_mm(), within_mm(600.0, 1e-9));
    CHECK_THAT(frame.joints[1].face_mm, within_mm(38.0, 1e-12));

    project.joints[1].through = 1;
    frame = frame_of(project, outline);
    CHECK(frame.joints[1].through == 1U);
    CHECK_THAT(frame.boards[1].outside_length_mm(), within_mm(638.0, 1e-9));
}

TEST_CASE("between equal sides the board that starts at the corner runs through", "[unit][frame]") {
    const Outline outline = regular_ring(5, 500.0);
    Project project = project_for(outline, {38.0});
    for (JointAsked& joint : project.joints) joint.kind = JointKind::butt;
    const Frame frame = frame_of(project, outline);
    for (const Joint& joint : frame.joints) CHECK(joint.through == joint.after);
    for (const Board& board : frame.boards)
        CHECK_THAT(board.outside_length_mm(), within_mm(frame.boards[0].outside_length_mm(), 1e-9));
}

TEST_CASE("half-lapped boards of one height lose half of it, the one that starts keeps the upper half", "[unit][frame]") {
    const Outline outline = outline_through(kRectangle);
    Project project = project_for(outline, {38.0});
    for (JointAsked& joint : project.joints) joint.kind = JointKind::half_lap;
    const Frame frame = frame_of(project, outline);
    for (const Board& board : frame.boards) {
        REQUIRE(board.ends[0].lap.has_value());
        REQUIRE(board.ends[1].lap.has_value());
        CHECK(board.ends[0].lap->keeps_upper);
        CHECK_FALSE(board.ends[1].lap->keeps_upper);
        CHECK(board.ends[0].lap->depth_mm == 72.5);
        CHECK_THAT(board.ends[0].lap->shoulder_inside_mm, within_mm(0.0, 1e-12));
        CHECK_THAT(board.ends[0].inside_mm, within_mm(-38.0, 1e-12));
        CHECK_THAT(board.ends[1].lap->shoulder_outside_mm, within_mm(board.side_mm, 1e-12));
    }
    CHECK(frame.joints[0].face_mm == 0.0);
    CHECK(overlapping_boards(frame).empty());
}

TEST_CASE("of half-lapped boards of two heights the lower keeps the half on the face side", "[unit][frame]") {
    const Outline outline = outline_through(kRectangle);
    Project project = project_for(outline, {38.0});
    for (JointAsked& joint : project.joints) joint.kind = JointKind::half_lap;
    project.boards[0].width_mm = 120.0;  // on edge: board 1 is lower than 2 and 4
    Frame frame = frame_of(project, outline);
    // Face side on edge is the bottom: the low board keeps its lower half.
    CHECK_FALSE(frame.boards[0].ends[1].lap->keeps_upper);
    CHECK(frame.boards[1].ends[0].lap->keeps_upper);
    CHECK_FALSE(frame.boards[0].ends[0].lap->keeps_upper);
    CHECK(frame.boards[3].ends[1].lap->keeps_upper);
    CHECK(frame.boards[0].ends[1].lap->depth_mm == 60.0);
    CHECK(frame.boards[1].ends[0].lap->depth_mm == 60.0);

    // Flat: the face side is the top, and the thin board keeps its upper half.
    project.lie = Lie::flat;
    for (BoardAsked& board : project.boards) std::swap(board.width_mm, board.thickness_mm);
    frame = frame_of(project, outline);
    CHECK(frame.boards[0].ends[1].lap->keeps_upper);
    CHECK_FALSE(frame.boards[1].ends[0].lap->keeps_upper);
}

TEST_CASE("an open chain ends as asked and has no joint at its free ends", "[unit][frame]") {
    const Outline outline = outline_through({{0.0, 600.0}, {0.0, 0.0}, {900.0, 0.0}, {900.0, 600.0}}, false);
    Project project = project_for(outline, {40.0});
    project.first_end.saw_deg = 10.0;
    project.last_end.saw_deg = -10.0;
    const Frame frame = frame_of(project, outline);
    REQUIRE(frame.boards.size() == 3);
    REQUIRE(frame.joints.size() == 2);
    CHECK(frame.joints[0].corner == 1);
    CHECK_FALSE(frame.boards[0].ends[0].mate.has_value());
    CHECK_FALSE(frame.boards[2].ends[1].mate.has_value());
    CHECK(frame.boards[0].ends[0].inside_mm == 0.0);
    CHECK_THAT(frame.boards[0].ends[0].outside_mm, within_mm(-40.0 * std::tan(kPi / 18.0), 1e-12));
    CHECK_THAT(frame.boards[2].ends[1].outside_mm, within_mm(600.0 - 40.0 * std::tan(kPi / 18.0), 1e-12));
    CHECK(frame.boards[2].ends[1].saw_deg == -10.0);
    REQUIRE(frame.inside_mm.size() == 4);
    REQUIRE(frame.outside_mm.size() == 4);
    CHECK_THAT(length(frame.inside_mm[0] - Vec2{0.0, 600.0}), within_mm(0.0, 1e-12));
    CHECK_THAT(length(frame.outside_mm[1] - Vec2{-40.0, -40.0}), within_mm(0.0, 1e-12));
}

TEST_CASE("a straight corner between equal boards is a plain square joint", "[unit][frame]") {
    const Outline outline = outline_through({{0.0, 0.0}, {450.0, 0.0}, {900.0, 0.0}, {900.0, 600.0}, {0.0, 600.0}});
    const Frame frame = frame_of(project_for(outline, {38.0}), outline);
    CHECK(frame.boards[0].ends[1].saw_deg == 0.0);
    CHECK(frame.boards[0].ends[1].outside_mm == 450.0);
    CHECK_THAT(length(frame.joints[1].inner_mm - Vec2{450.0, 0.0}), within_mm(0.0, 1e-12));
    CHECK_THAT(length(frame.joints[1].outer_mm - Vec2{450.0, -38.0}), within_mm(0.0, 1e-12));
}

TEST_CASE("with the outline along the middle both faces of a tapered board lean", "[unit][frame]") {
    const Outline outline = regular_ring(6, 370.0);
    Project project = project_for(outline, {38.0});
    project.outline.line = OutlineLine::middle;
    project.boards[3].taper_mm = -2.0;
    const Result<Frame> made = build_frame(project, outline);
    REQUIRE(made.ok());
    const Board& board = made.value().boards[3];
    CHECK_THAT(board.offset_at(0), WithinAbs(-19.0, 1e-12));
    CHECK_THAT(board.offset_at(1), WithinAbs(-18.0, 1e-12));
    CHECK_THAT(board.outer_at(1), WithinAbs(18.0, 1e-12));
    CHECK_THAT(made.findings()[0].message, ContainsSubstring("a line down the middle"));
}
