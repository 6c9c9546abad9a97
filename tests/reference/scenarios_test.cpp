// Jobs as makers bring them, with answers worked out beforehand by a script that shares nothing with this engine and printed to the
// digits a maker would write down. Tolerance: half a unit of the printed digit.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/angle.hpp"
#include "cutlist/cut_list.hpp"
#include "frame/frame.hpp"
#include "outline/outline.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

struct Job {
    Project project;
    Outline outline;
    Frame frame;
    CutList cuts;
    Findings findings;  // of the cuts
};

// Sections of one width and thickness per board, all corners mitred.
void set_boards(Project& project, const std::vector<double>& widths_mm, const std::vector<double>& thicknesses_mm, bool open) {
    for (std::size_t k = 0; k < widths_mm.size(); ++k) {
        project.boards.push_back({std::nullopt, widths_mm[k], thicknesses_mm[k], "/boards/" + std::to_string(k + 1)});
    }
    project.joints.resize(widths_mm.size() + (open ? 1 : 0));
    project.outline.margin_mm.assign(widths_mm.size(), 0.0);
    project.outline.open = open;
}

Job work_out(const Project& project) {
    const Result<Outline> outline = locate_outline(project);
    REQUIRE(outline.ok());
    const Result<Frame> frame = build_frame(project, outline.value());
    REQUIRE(frame.ok());
    return {project, outline.value(), frame.value(), list_cuts(project, frame.value()), check_cuts(project, frame.value())};
}

Reading reading(Reading::Kind kind, std::size_t first, std::size_t second, double value, double half_step) {
    Reading r;
    r.kind = kind;
    r.first = first;
    r.second = second;
    r.value = value;
    r.half_step = half_step;
    r.pointer = "/outline/readings";
    return r;
}

// Sides and angles in ring order, to the digits given.
void set_readings(Project& project, const std::vector<double>& sides_mm, double side_half_step, const std::vector<double>& angles_deg, double angle_half_step) {
    ReadingsOutline form;
    const std::size_t n = sides_mm.size();
    for (std::size_t k = 0; k < n; ++k) form.readings.push_back(reading(Reading::Kind::side, k, (k + 1) % n, sides_mm[k], side_half_step));
    for (std::size_t c = 0; c < n; ++c) form.readings.push_back(reading(Reading::Kind::angle, c, c, angles_deg[c], angle_half_step));
    project.outline.form = form;
    project.outline.form_pointer = "/outline/readings";
}

double short_point_mm(const Board& board) { return std::min(board.inside_length_mm(), board.outside_length_mm()); }

std::multiset<std::string> codes(const Findings& findings) {
    std::multiset<std::string> all;
    for (const Finding& finding : findings) all.insert(finding.code);
    return all;
}

const Finding& finding_of(const Findings& findings, std::string_view code) {
    for (const Finding& finding : findings) {
        if (finding.code == code) return finding;
    }
    FAIL("no finding " << code);
    return findings.front();
}

}  // namespace

TEST_CASE("a ring of twelve in two alternating timbers, to be turned", "[reference]") {
    // Flat, 48 wide, 304 over the outside flats. S 15; long point 81.5, short point 55.7; joint length 49.7.
    Project project;
    project.lie = Lie::flat;
    project.outline.line = OutlineLine::outside;
    project.outline.form = RegularOutline{12, RegularOutline::Of::over_flats, 304.0};
    set_boards(project, std::vector<double>(12, 48.0), std::vector<double>(12, 20.0), false);
    for (const char* name : {"dark", "light"}) {
        Stock stock;
        stock.name = name;
        stock.width_mm = 48.0;
        stock.thickness_mm = 20.0;
        project.stock.push_back(stock);
    }
    for (std::size_t k = 0; k < 12; ++k) project.boards[k].stock = k % 2;
    project.tools.kerf_mm = 2.4;
    const Job job = work_out(project);

    for (const Board& board : job.frame.boards) {
        CHECK_THAT(long_point_mm(board), within_mm(81.5, 0.05));
        CHECK_THAT(short_point_mm(board), within_mm(55.7, 0.05));
        for (const BoardEnd& end : board.ends) {
            CHECK_THAT(end.saw_deg, within_deg(15.0, 1e-9));
            CHECK_THAT(end.face_mm, within_mm(49.7, 0.05));
        }
    }
    REQUIRE(job.cuts.groups.size() == 2);
    CHECK(job.cuts.groups[0].count == 6);
    CHECK(job.cuts.groups[1].count == 6);
    REQUIRE(job.cuts.settings.size() == 1);
    CHECK(job.cuts.settings[0].count == 24);
    CHECK_THAT(job.cuts.settings[0].test_pair_deg.value(), within_deg(150.0, 1e-9));
    // Far under hand-safe length.
    CHECK(codes(job.findings) == std::multiset<std::string>{"piece.too-short"});
    CHECK_THAT(job.findings[0].message, ContainsSubstring("Boards 1 to 12 are 81.5 mm long"));
}

TEST_CASE("a half octagon against a wall", "[reference]") {
    // Outside flats 1200, depth 600, on edge 32 x 150, two courses, wall ends square. Full boards 497.1 outside and 470.5 inside, halves
    // 248.5 and 235.3; S 22.5 as a tilt; span 1200.
    Project project;
    project.lie = Lie::on_edge;
    project.courses = 2;
    project.outline.line = OutlineLine::outside;
    const double half = 600.0 * tan_deg(22.5);
    project.outline.form = PointsOutline{{{600, 0}, {600, half}, {half, 600}, {-half, 600}, {-600, half}, {-600, 0}}};
    set_boards(project, std::vector<double>(5, 150.0), std::vector<double>(5, 32.0), true);
    const Job job = work_out(project);

    REQUIRE(job.frame.boards.size() == 5);
    for (std::size_t k = 0; k < 5; ++k) {
        const Board& board = job.frame.boards[k];
        const bool full = k > 0 && k < 4;
        CHECK_THAT(board.outside_length_mm(), within_mm(full ? 497.1 : 248.5, 0.05));
        CHECK_THAT(board.inside_length_mm(), within_mm(full ? 470.5 : 235.3, 0.05));
        for (const BoardEnd& end : board.ends) CHECK_THAT(end.saw_deg, within_deg(end.mate ? 22.5 : 0.0, 1e-9));
    }
    CHECK_THAT(length(job.frame.outside_mm.back() - job.frame.outside_mm.front()), within_mm(1200.0, 1e-9));
    // Both halves are one piece turned over, the three full boards another.
    REQUIRE(job.cuts.groups.size() == 2);
    CHECK(job.cuts.groups[0].members.size() == 2);
    CHECK(job.cuts.groups[0].members[1].turning == Turning::top_to_bottom);
    CHECK(job.cuts.groups[1].count == 6);
    REQUIRE(job.cuts.settings.size() == 2);
    CHECK(job.cuts.settings[0].count == 4);   // square, at the wall
    CHECK(job.cuts.settings[1].count == 16);  // 22.5
    const std::vector<SawWay> ways = ways_to_saw(project, job.frame.boards[1], 22.5);
    CHECK(ways[0].motion == SawWay::Motion::tilt);
    CHECK(ways[0].within_saw);
    CHECK_FALSE(ways[1].within_saw);  // 150 does not stand at a fence of 90
    CHECK(codes(job.findings) == std::multiset<std::string>{"piece.too-short"});  // the halves
}

TEST_CASE("a triangular corner shelf with sharp points", "[reference]") {
    // Wall corner 91.2, legs 350 outside, third side 500.1; flat, 60 x 18; saw swings 47. S 44.4 at the wall corner, 67.8 at the points
    // (E 22.2), short points 144, 144, 206; over range at four ends; jig 22.2.
    Project project;
    project.lie = Lie::flat;
    project.outline.line = OutlineLine::outside;
    set_readings(project, {350.0, 500.1, 350.0}, 0.05, {91.2, 44.4, 44.4}, 0.05);
    set_boards(project, std::vector<double>(3, 60.0), std::vector<double>(3, 18.0), false);
    project.tools.swing_limit_deg = 47.0;
    project.tools.kerf_mm = 2.2;
    const Job job = work_out(project);

    const std::vector<double> short_points{144.0, 206.0, 144.0};
    for (std::size_t k = 0; k < 3; ++k) CHECK_THAT(short_point_mm(job.frame.boards[k]), within_mm(short_points[k], 0.5));
    for (const Board& board : job.frame.boards) {
        for (const BoardEnd& end : board.ends) CHECK_THAT(end.saw_deg, within_deg(end.corner == 0 ? 44.4 : 67.8, 0.05));
    }
    const Finding& beyond = finding_of(job.findings, "cut.beyond-saw");
    CHECK_THAT(beyond.message, ContainsSubstring("Ends 1B, 2B, 2C and 3C need 67.8"));
    CHECK_THAT(beyond.fix, ContainsSubstring("set to 22.2"));
    CHECK_THAT(beyond.fix, ContainsSubstring("a butt joint at B and C, which needs 45.6"));
    const Finding& tip = finding_of(job.findings, "cut.fragile-tip");
    CHECK_THAT(tip.message, ContainsSubstring("22.2"));
    CHECK_THAT(tip.fix, ContainsSubstring("blunt"));
}

TEST_CASE("a mixed-thickness pentagon bed", "[reference]") {
    // Corners 108 115 97 122 98, inside sides 900 820 760 936 774, thickness 47 38 38 25 47, 150 high; saw tilts 45. Settings before and
    // after each corner; misses by 0.5; the 25 beyond the tilt at both ends.
    Project project;
    project.lie = Lie::on_edge;
    set_readings(project, {900, 820, 760, 936, 774}, 0.5, {108, 115, 97, 122, 98}, 0.5);
    set_boards(project, std::vector<double>(5, 150.0), {47, 38, 38, 25, 47}, false);
    project.tools.kerf_mm = 3.2;
    const Job job = work_out(project);

    CHECK_THAT(job.outline.misclosure.length_mm, within_mm(0.5, 0.05));
    const std::vector<double> before{36.0, 23.1, 41.5, 8.6, 60.4};
    const std::vector<double> after{36.0, 41.9, 41.5, 49.4, 21.6};
    REQUIRE(job.frame.joints.size() == 5);
    for (const Joint& joint : job.frame.joints) {
        CHECK_THAT(job.frame.boards[joint.before].ends[1].saw_deg, within_deg(before[joint.corner], 0.05));
        CHECK_THAT(job.frame.boards[joint.after].ends[0].saw_deg, within_deg(after[joint.corner], 0.05));
    }
    // At D the saw would swing that far, but 150 does not stand at its fence; at E neither motion reaches.
    const Finding& tall = finding_of(job.findings, "cut.tall-board");
    CHECK_THAT(tall.message, ContainsSubstring("End 4D needs 49.4"));
    CHECK_THAT(tall.fix, ContainsSubstring("boards of like thickness side by side at D, which need 29;"));
    const Finding& beyond = finding_of(job.findings, "cut.beyond-saw");
    CHECK_THAT(beyond.message, ContainsSubstring("End 4E needs 60.4"));
    CHECK_THAT(beyond.fix, ContainsSubstring("a butt joint at E, which needs 8;"));
}
