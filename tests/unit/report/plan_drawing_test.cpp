#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "project/joint_kinds.hpp"
#include "report/drawing_parts.hpp"
#include "report/plan_drawing.hpp"
#include "plan/plan_view.hpp"
#include "report/wording.hpp"
#include "support/catch.hpp"
#include "unit/report/drawing_checks.hpp"
#include "unit/report/drawn_plans.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

std::vector<Project> named_projects() {
    std::vector<Project> projects{hexagon_planter(), pentagon_bed(), octagon_window(), l_shaped_bed(),
                                  door_casing(),     wall_planter(), lapped_frame(),   gate_arch()};
    Project mirrored = hexagon_planter();
    mirrored.outline.letters_clockwise = true;
    mirrored.joints[2].kind = JointKind::butt;
    mirrored.outline.line = OutlineLine::middle;
    projects.push_back(mirrored);
    Project arch = gate_arch();
    arch.outline.letters_clockwise = true;
    projects.push_back(arch);
    Project inches = pentagon_bed();
    inches.unit = Unit::inch;
    inches.tools.rule_step_mm = 25.4 / 16.0;
    projects.push_back(inches);
    projects.push_back(
        project_of("Triangle", RegularOutline{3, RegularOutline::Of::side, 500.0}, {60, 60, 60}, false, Lie::flat));
    return projects;
}

Plan framed(const Project& project) {
    Plan plan = make_plan(project);
    for (const Finding& f : plan.findings) {
        INFO(f.code << " " << f.message);
        REQUIRE((f.severity != Severity::error || plan.frame));
    }
    REQUIRE(plan.frame);
    return plan;
}

void check_layout(const Drawing& d) {
    CHECK(overlapping_labels(d) == "");
    CHECK(label_under_circle(d) == "");
    CHECK(label_off_page(d) == "");
    CHECK(mark_off_page(d) == "");
    CHECK(smallest_text_mm(d) >= 2.5 - 1e-12);
    const Vec2 page = (1.0 / d.scale) * (d.page_high - d.page_low);
    CHECK(std::min(page.x, page.y) <= kPaperShortMm + 1e-9);
    CHECK(std::max(page.x, page.y) <= kPaperLongMm + 1e-9);
}

// No label lies on wood, except a board's own number.
std::string label_on_wood(const Drawing& d, const Plan& plan) {
    for (const Label& label : d.labels) {
        const auto box = label_box(label);
        for (std::size_t k = 0; k < plan.frame->boards.size(); ++k) {
            if (label.text == board_number(k) && label.strong) continue;
            if (convex_gap(box, d.regions[k].points) < -1e-6 * d.scale) return label.text + " on " + board_number(k);
        }
    }
    return "";
}

}  // namespace

TEST_CASE("Boards are drawn where the plan has them", "[report][plan-drawing]") {
    for (const Project& project : named_projects()) {
        const Plan plan = framed(project);
        const Drawing d = draw_plan(plan);
        const PlanView view(plan);
        for (std::size_t k = 0; k < plan.frame->boards.size(); ++k) {
            REQUIRE(d.regions[k].fill == Fill::wood);
            const auto corners = plan.frame->boards[k].plan_mm();
            for (std::size_t i = 0; i < 4; ++i) CHECK(d.regions[k].points[i] == view(corners[i]));
        }
    }
}

TEST_CASE("The view keeps distances, mirrors only for clockwise letters, and stands open chains on a level line",
          "[report][plan-drawing]") {
    for (const Project& project : named_projects()) {
        const Plan plan = framed(project);
        const PlanView view(plan);
        const Vec2 a{120.0, -40.0}, b{-300.0, 75.0};
        CHECK_THAT(length(view(a) - view(b)), within_mm(length(a - b), 1e-9));
        const double turn = cross(view(a) - view({0, 0}), view(b) - view({0, 0}));
        CHECK_THAT(turn, within_mm((plan.outline->letters_clockwise ? -1.0 : 1.0) * cross(a, b), 1e-6));
        const auto& corners = plan.outline->corners_mm;
        if (plan.outline->closed) {
            CHECK(view(a).x == a.x);
            continue;
        }
        if (std::holds_alternative<PointsOutline>(project.outline.form)) {
            CHECK(view(a) == a);
            continue;
        }
        const Vec2 first = view(corners.front()), last = view(corners.back()), middle = view(corners[corners.size() / 2]);
        CHECK_THAT(first.y, within_mm(last.y, 1e-9));
        CHECK(middle.y > first.y);  // the chain stands above the line between its free ends
        CHECK((first.x > last.x) == !plan.outline->letters_clockwise);
    }
}

TEST_CASE("Every letter, number, angle and length is there once in the frames people build", "[report][plan-drawing]") {
    for (const Project& project : named_projects()) {
        const Plan plan = framed(project);
        const Drawing d = draw_plan(plan);
        CAPTURE(project.title);
        check_layout(d);
        CHECK(label_on_wood(d, plan) == "");
        CHECK_FALSE(says(d, "Not every label"));
        for (std::size_t c = 0; c < plan.outline->corners_mm.size(); ++c) CHECK(count_names(d, corner_letter(c)) == 1);
        for (std::size_t k = 0; k < plan.frame->boards.size(); ++k) {
            CHECK(count_names(d, board_number(k)) == 1);
            CHECK(count_labels(d, shown(plan.outline->sides_mm[k], plan.project)) >= 1);
        }
        for (std::size_t c = 0; c < plan.outline->corners_mm.size(); ++c) {
            if (plan.outline->is_joint(c)) CHECK(count_labels(d, show_angle(plan.outline->interior_deg[c]) + "\xC2\xB0") >= 1);
        }
        CHECK(says(d, plan.outline->letters_clockwise ? "corners, clockwise" : "corners, counter-clockwise"));
        CHECK(says(d, project.outline.seen_from_room ? "seen from the room" : "seen from above"));
        CHECK(says(d, "given line"));
        for (const Label& label : d.labels) {
            if (label.strong && label.text.size() == 1) CHECK(label.height / d.scale >= 3.5);
        }
    }
}

TEST_CASE("A letter stands nearer to its own corner than to any other, a number's leader ends in its own board",
          "[report][plan-drawing]") {
    for (const Project& project : named_projects()) {
        const Plan plan = framed(project);
        const Drawing d = draw_plan(plan);
        const PlanView view(plan);
        for (const Label& label : d.labels) {
            const std::size_t n = plan.outline->corners_mm.size();
            for (std::size_t c = 0; c < n; ++c) {
                if (label.text != corner_letter(c) || !label.strong) continue;
                const double own = length(label.at - view(plan.frame->outside_mm[c]));
                for (std::size_t other = 0; other < n; ++other)
                    CHECK(own <= length(label.at - view(plan.frame->outside_mm[other])) + 1e-9);
            }
        }
        for (std::size_t k = 0; k < plan.frame->boards.size(); ++k) {
            const auto number = std::find_if(d.labels.begin(), d.labels.end(),
                                             [&](const Label& l) { return l.text == board_number(k) && l.strong; });
            REQUIRE(number != d.labels.end());
            const std::vector<Vec2> at{number->at};
            bool touches = convex_gap(d.regions[k].points, at) < 0.0;
            for (const Stroke& s : d.strokes) {
                if (s.pen != Pen::thin || s.points.size() != 2) continue;
                const bool from_circle = std::any_of(d.circles.begin(), d.circles.end(), [&](const Circle& c) {
                    return c.centre == number->at && std::abs(length(s.points[0] - c.centre) - c.radius) < 1e-6;
                });
                const std::vector<Vec2> end{s.points[1]};
                touches = touches || (from_circle && convex_gap(d.regions[k].points, end) < 0.0);
            }
            CAPTURE(project.title, k);
            CHECK(touches);
        }
    }
}

TEST_CASE("The given line is drawn side by side along the outline, whichever line it is", "[report][plan-drawing]") {
    for (const OutlineLine line : {OutlineLine::inside, OutlineLine::outside, OutlineLine::middle}) {
        Project project = pentagon_bed();
        project.outline.line = line;
        project.outline.margin_mm.assign(5, 4.0);
        const Plan plan = framed(project);
        const Drawing d = draw_plan(plan);
        std::vector<Stroke> given;
        std::copy_if(d.strokes.begin(), d.strokes.end(), std::back_inserter(given),
                     [](const Stroke& s) { return s.pen == Pen::given; });
        REQUIRE(given.size() == 6);  // five sides and the sample in the legend
        for (std::size_t k = 0; k < 5; ++k) {
            CHECK_THAT(length(given[k].points[1] - given[k].points[0]), within_mm(plan.outline->sides_mm[k], 1e-9));
            CHECK_THAT(length(given[k].points[0] - plan.outline->corners_mm[k]), within_mm(0.0, 1e-9));
        }
        CHECK(says(d, "margin 4"));
    }
}

TEST_CASE("Dimension lines are as long as the sides they measure", "[report][plan-drawing]") {
    for (const Project& project : named_projects()) {
        const Plan plan = framed(project);
        const Drawing d = draw_plan(plan);
        for (std::size_t k = 0; k < plan.frame->boards.size(); ++k) {
            const Vec2 along = [&] {
                const PlanView view(plan);
                return view(plan.frame->boards[k].along) - view({0, 0});
            }();
            const bool found = std::any_of(d.strokes.begin(), d.strokes.end(), [&](const Stroke& s) {
                if (s.pen != Pen::dimension || s.points.size() != 2) return false;
                return length(s.points[1] - s.points[0] - plan.outline->sides_mm[k] * along) < 1e-6;
            });
            CHECK(found);
        }
    }
}

TEST_CASE("Inward corners are shouted, free ends named, laps crossed", "[report][plan-drawing]") {
    const Drawing bed = draw_plan(framed(l_shaped_bed()));
    CHECK(count_labels(bed, "IN-CORNER") == 1);
    CHECK(count_labels(bed, "270\xC2\xB0") == 1);
    const Drawing door = draw_plan(framed(door_casing()));
    CHECK(count_labels(door, "free end") == 2);
    CHECK(count_labels(door, "88.8\xC2\xB0") == 1);  // saw 1.2: between board and floor on the inside
    CHECK(count_labels(door, "90.8\xC2\xB0") == 1);
    CHECK(count_labels(draw_plan(framed(hexagon_planter())), "free end") == 0);

    const Plan lapped = framed(lapped_frame());
    const Drawing lap = draw_plan(lapped);
    const auto hidden =
        std::count_if(lap.strokes.begin(), lap.strokes.end(), [](const Stroke& s) { return s.pen == Pen::hidden; });
    CHECK(hidden == 4 + 1);  // under each corner one edge, and the legend's
    // Both diagonals of every lap, corner to corner of the square the boards share.
    for (const Joint& joint : lapped.frame->joints) {
        const bool crossed = std::any_of(lap.strokes.begin(), lap.strokes.end(), [&](const Stroke& s) {
            return s.pen == Pen::thin && s.points.size() == 2 &&
                   length(s.points[0] - joint.inner_mm) + length(s.points[1] - joint.outer_mm) < 1e-6;
        });
        const bool crossed_back = std::any_of(lap.strokes.begin(), lap.strokes.end(), [&](const Stroke& s) {
            return s.pen == Pen::thin && s.points.size() == 2 &&
                   length(s.points[1] - joint.inner_mm) + length(s.points[0] - joint.outer_mm) < 1e-6;
        });
        CAPTURE(joint.corner);
        CHECK((crossed || crossed_back));
    }
    CHECK(says(lap, "half-lap"));
}

TEST_CASE("Scales are round and the largest that fits the paper", "[report][plan-drawing]") {
    for (const Project& project : named_projects()) {
        const Drawing d = draw_plan(framed(project));
        const std::vector<Scale> scales = round_scales(in_inches(project));
        const auto at = std::find_if(scales.begin(), scales.end(), [&](const Scale& s) { return s.units_per_mm == d.scale; });
        REQUIRE(at != scales.end());
        CHECK(says(d, "Scale " + at->text));
    }
    for (const bool inches : {false, true}) {
        const std::vector<Scale> scales = round_scales(inches);
        CHECK(std::is_sorted(scales.begin(), scales.end(),
                             [](const Scale& a, const Scale& b) { return a.units_per_mm < b.units_per_mm; }));
    }
    CHECK(draw_plan(framed(hexagon_planter())).scale == 5.0);
    CHECK(draw_plan(framed(pentagon_bed())).scale == 10.0);
}

TEST_CASE("Labels never collide in random rings, thin and thick, tiny and huge", "[report][plan-drawing]") {
    Random random(41);
    int drawn = 0;
    for (int i = 0; i < 220; ++i) {
        const std::size_t n = 3 + random.index(22);
        const double radius = random.log_between(20.0, 20000.0);
        const double width = radius * random.log_between(0.003, 0.35) / static_cast<double>(n) * 3.0;
        const Project project = random_ring(random, n, radius, width);
        const Plan plan = make_plan(project);
        if (!plan.frame) continue;
        ++drawn;
        CAPTURE(i, n, radius, width);
        const Drawing d = draw_plan(plan);
        check_layout(d);
        CHECK(label_on_wood(d, plan) == "");
        for (std::size_t k = 0; k < n; ++k) {
            // Each letter and number is there unless the drawing says that some are not.
            if (says(d, "Not every label") || says(d, "Only one corner")) break;
            CHECK(count_names(d, corner_letter(k)) == 1);
            CHECK(count_names(d, board_number(k)) == 1);
        }
    }
    CHECK(drawn > 150);
}

TEST_CASE("Labels never collide in arches, chains with inward corners and laps", "[report][plan-drawing]") {
    Random random(43);
    int drawn = 0;
    for (int i = 0; i < 150; ++i) {
        Project project;
        const std::size_t n = 2 + random.index(12);
        if (random.chance(0.5)) {
            const std::vector<double> widths(n, random.log_between(10.0, 120.0));
            project = project_of(
                "Arch", ArcOutline{random.log_between(200.0, 3000.0), random.between(40.0, 300.0), n, ArcOutline::Fits::flats},
                widths, true, Lie::flat);
        } else {
            std::vector<double> sides, angles, widths;
            for (std::size_t k = 0; k < n; ++k) {
                sides.push_back(random.log_between(300.0, 2000.0));
                angles.push_back(random.chance(0.3) ? random.between(185.0, 290.0) : random.between(60.0, 179.0));
                widths.push_back(random.between(18.0, 50.0));
            }
            angles.pop_back();
            project = project_of("Chain", walked(sides, angles, true), widths, true);
            for (JointAsked& joint : project.joints) joint.kind = kJointKinds[random.index(kJointKinds.size())];
        }
        project.outline.letters_clockwise = random.chance(0.5);
        const Plan plan = make_plan(project);
        if (!plan.frame) continue;
        ++drawn;
        CAPTURE(i, n);
        check_layout(draw_plan(plan));
    }
    CHECK(drawn > 60);
}

TEST_CASE("Rings of many boards name one corner in so many and say so", "[report][plan-drawing]") {
    for (const std::size_t n : {61UL, 200UL, 1000UL}) {
        const Plan plan = framed(project_of("Ring", RegularOutline{n, RegularOutline::Of::inscribed, 9000.0},
                                            std::vector<double>(n, 20.0), false, Lie::flat));
        const Drawing d = draw_plan(plan);
        CAPTURE(n);
        check_layout(d);
        CHECK(count_labels(d, "A") == 1);
        if (n > 100) {
            CHECK(says(d, "Only one corner and board in"));
            CHECK(count_labels(d, "B") == 0);
        }
        CHECK(d.regions.size() >= n);
    }
}

TEST_CASE("A title too long for the page is cut and says so", "[report][plan-drawing]") {
    Project project = hexagon_planter();
    for (int i = 0; i < 60; ++i) project.title += " and another word";
    const Drawing d = draw_plan(framed(project));
    check_layout(d);
    CHECK(says(d, "..."));
    project.title = std::string(300, 'W');
    check_layout(draw_plan(framed(project)));
    project.title.clear();
    check_layout(draw_plan(framed(project)));
}
