#include "frame/frame.hpp"

#include "frame/overlap.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"

using namespace boardring;
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
    for (const Board& board : frame.boards) {
        CHECK_THAT(board.inside_length_mm(), within_mm(369.504, 1e-9));
        // 369.504 + 2 * 38 tan 30 = 413.383
        CHECK_THAT(board.outside_length_mm(), within_mm(413.382621, 1e-6));
    }
    CHECK(tiling_error(frame) < 1e-12);
}
