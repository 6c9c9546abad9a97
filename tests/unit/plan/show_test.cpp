#include "plan/show.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

// A maker's frame of boards on edge, 145 high, through the points given; the plan without what needs a file.
Plan plan_through(const std::vector<Vec2>& corners, const std::vector<double>& widths, bool clockwise = false) {
    Outline outline = outline_through(corners);
    Project project = project_for(outline, widths);
    PointsOutline points{corners};
    if (clockwise) {
        for (Vec2& p : points.points_mm) p.y = -p.y;
    }
    project.outline.form = points;
    project.outline.letters_clockwise = clockwise;
    project.outline.margin_mm.assign(widths.size(), 0.0);
    return make_plan(project);
}

Plan regular(std::size_t n, double side) {
    const Outline outline = regular_ring(n, side);
    Project project = project_for(outline, std::vector<double>(n, 38.0));
    project.outline.form = RegularOutline{n, RegularOutline::Of::side, side};
    project.outline.margin_mm.assign(n, 0.0);
    return make_plan(project);
}

const std::vector<Vec2> kUnevenFour{{0, 0}, {900, 0}, {1000, 700}, {-50, 640}};
const std::vector<Vec2> kEll{{0, 0}, {2400, 0}, {2400, 900}, {1000, 900}, {1000, 2100}, {0, 2100}};

}  // namespace

TEST_CASE("all marks of a board are measured from its leftmost mark, both ways round") {
    for (const bool clockwise : {false, true}) {
        const Plan plan = plan_through(kUnevenFour, {38, 25, 47, 38}, clockwise);
        REQUIRE(plan.complete());
        CHECK(plan.outline->letters_clockwise == clockwise);
        for (const ShownBoard& board : plan.shown) {
            const ShownEnd& left = board.ends[board.left_end];
            const ShownEnd& right = board.ends[1 - board.left_end];
            CHECK(board.left_end == (clockwise ? 1u : 0u));
            CHECK_THAT(std::min(left.inside_mark_mm, left.outside_mark_mm), within_mm(0.0, 1e-9));
            CHECK_THAT(std::max(right.inside_mark_mm, right.outside_mark_mm), within_mm(board.long_point_mm, 1e-9));
            CHECK_THAT(right.inside_mark_mm - left.inside_mark_mm, within_mm(board.inside_length_mm, 1e-9));
            CHECK_THAT(right.outside_mark_mm - left.outside_mark_mm, within_mm(board.outside_length_mm, 1e-9));
            CHECK(board.short_point_mm <= board.long_point_mm);
            CHECK(left.square_at_mm == left.inside_mark_mm);
        }
    }
}

TEST_CASE("the mirror image lettered clockwise has the same boards, left and right exchanged") {
    const Plan seen = plan_through(kUnevenFour, {38, 25, 47, 38});
    const Plan mirrored = plan_through(kUnevenFour, {38, 25, 47, 38}, true);
    for (std::size_t k = 0; k < 4; ++k) {
        for (std::size_t e = 0; e < 2; ++e) {
            const double length = seen.shown[k].long_point_mm;
            CHECK_THAT(mirrored.shown[k].ends[e].inside_mark_mm, within_mm(length - seen.shown[k].ends[e].inside_mark_mm, 1e-9));
            CHECK_THAT(mirrored.shown[k].ends[e].outside_mark_mm, within_mm(length - seen.shown[k].ends[e].outside_mark_mm, 1e-9));
            CHECK(mirrored.frame->boards[k].ends[e].saw_deg == seen.frame->boards[k].ends[e].saw_deg);
        }
    }
}

TEST_CASE("the bevel's rise has the tangent of the slope, the edge angle is what is left of 90") {
    const Plan plan = plan_through(kUnevenFour, {38, 25, 47, 38});
    for (std::size_t k = 0; k < 4; ++k) {
        for (std::size_t e = 0; e < 2; ++e) {
            const double saw = std::abs(plan.frame->boards[k].ends[e].saw_deg);
            const ShownEnd& end = plan.shown[k].ends[e];
            CHECK_THAT(end.bevel_rise_mm, within_mm(300.0 * std::tan(radians(saw)), 1e-9));
            CHECK_THAT(end.edge_deg, within_deg(90.0 - saw, 1e-12));
        }
    }
}

TEST_CASE("a hexagon of side 400: three equal diagonals of twice the side, halves along one of them") {
    const Plan plan = regular(6, 400.0);
    REQUIRE(plan.complete());
    REQUIRE(plan.assembly->diagonals.size() == 3);
    for (const Diagonal& d : plan.assembly->diagonals) {
        CHECK_THAT(d.inside_mm, within_mm(800.0, 1e-9));
        CHECK_THAT(d.outside_mm, within_mm(800.0 + 2.0 * 38.0 / std::cos(radians(30.0)), 1e-9));
        CHECK(d.second == d.first + 3);
    }
    REQUIRE(plan.assembly->halves);
    CHECK(plan.assembly->halves->second_corner == plan.assembly->halves->first_corner + 3);
    CHECK_THAT(plan.assembly->halves->inside_mm, within_mm(800.0, 1e-9));
    CHECK(plan.assembly->fit_last == 5);
}

TEST_CASE("rings whose halves cannot be trued on a straight edge offer none") {
    CHECK_FALSE(regular(5, 400.0).assembly->halves);                                     // an odd ring has no opposite joint
    CHECK_FALSE(plan_through(kUnevenFour, {38, 25, 47, 38}).assembly->halves);           // faces point elsewhere
    CHECK(regular(3, 400.0).assembly->diagonals.empty());                                // a triangle has no diagonal
}

TEST_CASE("diagonals of a ring with an inward corner stay inside it") {
    const Plan plan = plan_through(kEll, {50, 50, 50, 50, 50, 50});
    REQUIRE(plan.complete());
    REQUIRE_FALSE(plan.assembly->diagonals.empty());
    for (const Diagonal& d : plan.assembly->diagonals) {
        // From D (index 3, the inward corner) every corner is in sight; B to F would leave the ring.
        CHECK_FALSE((d.first == 1 && d.second == 5));
        const Vec2 a = kEll[d.first], b = kEll[d.second];
        CHECK_THAT(d.inside_mm, within_mm(length(b - a), 1e-9));
    }
    for (std::size_t i = 1; i < plan.assembly->diagonals.size(); ++i) {
        CHECK(plan.assembly->diagonals[i - 1].inside_mm >= plan.assembly->diagonals[i].inside_mm - 1e-6);
    }
}

TEST_CASE("totals of a hexagon of side 400, 145 high, follow from its regular shape") {
    const Plan plan = regular(6, 400.0);
    const double area = 1.5 * std::sqrt(3.0) * 400.0 * 400.0;
    const double outer_side = 400.0 + 2.0 * 38.0 * std::tan(radians(30.0));
    const double outer = 1.5 * std::sqrt(3.0) * outer_side * outer_side;
    CHECK_THAT(plan.totals->inside_area_mm2, within_mm(area, 1e-6));
    CHECK_THAT(plan.totals->outside_area_mm2, within_mm(outer, 1e-6));
    CHECK_THAT(*plan.totals->over_flats_inside_mm, within_mm(400.0 * std::sqrt(3.0), 1e-9));
    CHECK_THAT(*plan.totals->over_flats_outside_mm, within_mm(400.0 * std::sqrt(3.0) + 76.0, 1e-9));
    CHECK_THAT(plan.totals->inside_box_mm.x, within_mm(800.0, 1e-9));
    CHECK_THAT(plan.totals->inside_box_mm.y, within_mm(400.0 * std::sqrt(3.0), 1e-9));
    REQUIRE(plan.totals->volume_l);
    CHECK_THAT(*plan.totals->volume_l, WithinAbs(area * 145.0 * 1e-6, 1e-9));
    // Dry timber 400 to 700 kg/m3, wet soil 1,600 to 2,000 (common practice).
    CHECK_THAT(plan.totals->timber_kg.low, WithinAbs((outer - area) * 145.0 * 400e-9, 1e-9));
    CHECK_THAT(plan.totals->timber_kg.high, WithinAbs((outer - area) * 145.0 * 700e-9, 1e-9));
    CHECK_THAT(plan.totals->wet_soil_kg->high, WithinAbs(area * 145.0 * 2000e-9, 1e-9));
}

TEST_CASE("the box outside holds all the wood as the plan is drawn, its free ends below") {
    // Seven flats whose middle touches a radius of 578, 60 to either side; cut square, the inner corner of a free end lies lowest.
    Project project = project_for(regular_ring(7, 200.0), std::vector<double>(7, 120.0));
    project.outline.form = ArcOutline{578.0, 144.0, 7, ArcOutline::Fits::flats};
    project.outline.line = OutlineLine::middle;
    project.outline.open = true;
    project.lie = Lie::flat;
    for (BoardAsked& board : project.boards) board.width_mm = 120.0;
    project.joints.resize(8);
    project.outline.margin_mm.assign(7, 0.0);
    const Plan plan = make_plan(project);
    REQUIRE(plan.totals);
    const double end = 578.0 / cos_deg(72.0 / 7.0);  // from the middle of the arc to a free end
    const double lean = 72.0 - 72.0 / 7.0;           // of the last board's outward side from straight up
    CHECK_THAT(plan.totals->outside_box_mm.x, within_mm(2.0 * (end * sin_deg(72.0) + 60.0 * sin_deg(lean)), 1e-9));
    const double lowest = end * cos_deg(72.0) - 60.0 * cos_deg(lean);
    CHECK_THAT(plan.totals->outside_box_mm.y, within_mm(638.0 - lowest, 1e-9));
    CHECK_THAT(plan.totals->inside_box_mm.y, within_mm(518.0 - lowest, 1e-9));
}

TEST_CASE("a polygon's area is signed by the way it is walked") {
    CHECK(polygon_area_mm2({{0, 0}, {3, 0}, {3, 2}, {0, 2}}) == 6.0);
    CHECK(polygon_area_mm2({{0, 2}, {3, 2}, {3, 0}, {0, 0}}) == -6.0);
    CHECK(polygon_area_mm2({}) == 0.0);
}

TEST_CASE("a stage that finds an error is the last one run") {
    Project project = project_for(regular_ring(6, 400.0), std::vector<double>(6, 38.0));
    project.outline.form = RegularOutline{6, RegularOutline::Of::side, 400.0};
    project.outline.line = OutlineLine::outside;
    project.outline.margin_mm.assign(6, -400.0);  // moves every board past the middle
    const Plan plan = make_plan(project);
    CHECK(has_error(plan.findings));
    CHECK(plan.outline);
    CHECK_FALSE(plan.frame);
    CHECK_FALSE(plan.complete());
    CHECK(plan.shown.empty());
}
