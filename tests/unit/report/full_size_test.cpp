#include "report/full_size.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "unit/report/drawing_checks.hpp"
#include "unit/report/drawn_plans.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

std::vector<Plan> plans() {
    std::vector<Plan> all;
    for (const Project& project : {hexagon_planter(), pentagon_bed(), octagon_window(), l_shaped_bed(), door_casing(), wall_planter(),
                                   lapped_frame(), gate_arch()})
        all.push_back(make_plan(project));
    return all;
}

// Slopes from upright of all saw lines, absolute.
std::vector<double> saw_lines(const std::vector<Drawing>& sheets) {
    std::vector<double> slopes;
    for (const Drawing& sheet : sheets) {
        for (const Stroke& stroke : sheet.strokes) {
            if (stroke.pen != Pen::cut) continue;
            const Vec2 d = stroke.points.back() - stroke.points.front();
            slopes.push_back(degrees(std::atan2(std::abs(d.x), std::abs(d.y))));
        }
    }
    return slopes;
}

}  // namespace

TEST_CASE("every slope of a plan stands on a sheet at its exact angle, once as a wedge and as an end of each hand it has") {
    for (const Plan& plan : plans()) {
        const std::vector<double> drawn = saw_lines(draw_full_size(plan));
        for (const Board& board : plan.frame->boards) {
            for (const BoardEnd& end : board.ends) {
                if (std::abs(end.saw_deg) < 0.005) continue;
                const auto as_often = std::count_if(drawn.begin(), drawn.end(), [&](double s) { return std::abs(s - std::abs(end.saw_deg)) < 1e-9; });
                CHECK(as_often >= 2);
            }
        }
    }
}

TEST_CASE("sheets fit both papers, texts stay on them, are legible, and do not run into each other") {
    for (const Plan& plan : plans()) {
        for (const Drawing& sheet : draw_full_size(plan)) {
            CHECK(sheet.scale == 1.0);
            CHECK(sheet.page_high == Vec2{190.0, 254.0});
            for (std::size_t i = 0; i < sheet.labels.size(); ++i) {
                INFO(sheet.labels[i].text);
                CHECK(sheet.labels[i].height >= 2.5);
                CHECK(box_inside_page(label_box(sheet.labels[i]), sheet));
                for (std::size_t j = 0; j < i; ++j) CHECK(convex_gap(label_box(sheet.labels[i]), label_box(sheet.labels[j])) > -0.35);
            }
            for (const Stroke& stroke : sheet.strokes) {
                for (const Vec2 p : stroke.points) CHECK((p.x >= 0.0 && p.y >= 0.0 && p.x <= 190.0 && p.y <= 254.0));
            }
        }
    }
}

TEST_CASE("an end larger than a sheet goes over several that carry the same crosses; a huge one is left to its numbers") {
    Project wide = octagon_window();
    REQUIRE(wide.lie == Lie::flat);
    const std::size_t plain = draw_full_size(make_plan(wide)).size();
    for (BoardAsked& board : wide.boards) board.width_mm = 280.0;
    const Plan plan = make_plan(wide);
    REQUIRE(plan.complete());
    const std::vector<Drawing> sheets = draw_full_size(plan);
    CHECK(sheets.size() > plain);
    // All pieces of the saw lines of one tiled end together are as long as its face, the overlap counted twice.
    double tiled = 0.0;
    for (const Drawing& sheet : sheets) {
        const bool is_tile = std::any_of(sheet.labels.begin(), sheet.labels.end(), [](const Label& l) { return l.text.find("Sheet ") == 0; });
        if (!is_tile) continue;
        for (const Stroke& stroke : sheet.strokes) {
            if (stroke.pen == Pen::cut) tiled += length(stroke.points.back() - stroke.points.front());
        }
    }
    const double face = plan.frame->boards[0].ends[0].face_mm;
    CHECK(tiled > face);
    for (BoardAsked& board : wide.boards) board.width_mm = 1000.0;
    const Plan huge = make_plan(wide);
    if (huge.complete()) CHECK(saw_lines(draw_full_size(huge)).size() <= 2 * plan.frame->boards.size());
}
