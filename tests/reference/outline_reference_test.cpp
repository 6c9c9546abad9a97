// Outlines against values printed outside this project. Each table names its source, whether its page was read, and how far its
// digits carry. Feet and inches of the tables are used as plain numbers: the outline does not know units.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/angle.hpp"
#include "outline/build.hpp"
#include "outline/chain.hpp"
#include "outline/missing.hpp"
#include "outline/outline.hpp"
#include "support/catch.hpp"
#include "support/outline_project.hpp"

using namespace boardring;
using boardring_test::points_project;
using boardring_test::project_of;

namespace {

double dms(int degrees, int minutes, double seconds = 0.0) {
    return degrees + minutes / 60.0 + seconds / 3600.0;
}

// One line of a traverse: direction from north, clockwise, and length; latitude = L cos, departure = L sin as printed.
struct Line {
    const char* name;
    double azimuth_deg;
    double length;
    double latitude;
    double departure;
};

// A traverse as our chain: walked clockwise the turn is the growth of the azimuth (letters clockwise), walked the other way its
// loss. The engine always sees the counter-clockwise picture.
Chain chain_of(const std::vector<Line>& lines, bool clockwise, bool closed) {
    Chain chain;
    chain.closed = closed;
    const std::size_t n = lines.size();
    for (const Line& line : lines) chain.sides_mm.push_back(line.length);
    for (std::size_t c = 0; c < (closed ? n : n + 1); ++c) {
        if (!closed && (c == 0 || c == n)) {
            chain.interior_deg.push_back(180.0);
            continue;
        }
        const double growth = lines[c].azimuth_deg - lines[c == 0 ? n - 1 : c - 1].azimuth_deg;
        chain.interior_deg.push_back(180.0 - wrapped_deg(clockwise ? growth : -growth));
    }
    return chain;
}

// Our plane laid on north and east again: the first line to its azimuth.
struct Legs {
    double latitude, departure;
};
Legs on_the_map(Vec2 v, double first_azimuth_deg, bool clockwise) {
    const Vec2 seen = {v.x, clockwise ? v.y : -v.y};
    const Vec2 laid = turned(seen, cos_deg(first_azimuth_deg), sin_deg(first_azimuth_deg));
    return {laid.x, laid.y};
}

void check_lines(const std::vector<Line>& lines, bool clockwise, bool closed, double tolerance) {
    const Walk walked = walk(chain_of(lines, clockwise, closed));
    for (std::size_t k = 0; k < lines.size(); ++k) {
        INFO(lines[k].name);
        const Legs legs = on_the_map(lines[k].length * walked.along[k], lines[0].azimuth_deg, clockwise);
        CHECK_THAT(legs.latitude, WithinAbs(lines[k].latitude, tolerance));
        CHECK_THAT(legs.departure, WithinAbs(lines[k].departure, tolerance));
    }
}

// The misclosure of the whole way, located with digits coarse enough to be accepted.
Misclosure misclosure_of(const std::vector<Line>& lines, bool clockwise) {
    const Chain chain = chain_of(lines, clockwise, true);
    const Result<Outline> located = locate_outline(project_of(chain.sides_mm, chain.interior_deg, 5.0, 1.0));
    REQUIRE(located.ok());
    return located.value().misclosure;
}

std::vector<Vec2> points_of(const std::vector<Legs>& legs) {
    std::vector<Vec2> points;
    Vec2 at;
    for (const Legs& leg : legs) {
        points.push_back(at);
        at = at + Vec2{leg.departure, leg.latitude};
    }
    return points;
}

const std::vector<Line> kT1 = {{"AB", dms(26, 10), 285.10, 255.88, 125.72},
                               {"BC", dms(104, 35), 610.45, -153.70, 590.78},
                               {"CD", dms(195, 30), 720.48, -694.28, -192.54},
                               {"DE", dms(358, 18), 203.00, 202.91, -6.02},
                               {"EA", dms(306, 54), 647.02, 388.48, -517.41}};
const std::vector<Line> kT2 = {{"AB", dms(248, 5, 35), 472.68, -176.357, -438.548},
                               {"BC", dms(340, 14), 216.13, 203.395, -73.093},
                               {"CD", dms(45, 55, 20), 276.52, 192.357, 198.651},
                               {"DA", dms(125, 0, 45), 382.24, -219.312, 313.065}};
const std::vector<Line> kT5 = {{"AB", dms(337, 23, 20), 314.02, 289.883, -120.733},
                               {"BC", dms(240, 39, 24), 264.49, -129.611, -230.556},
                               {"CD", dms(141, 13, 50), 213.50, -166.460, 133.691},
                               {"DA", dms(88, 22, 58), 217.69, 6.144, 217.603}};
const std::vector<Line> kT6 = {{"QR", dms(123, 36, 22), 398.75, -220.700, 332.104},
                               {"RS", dms(255, 17, 42), 422.89, -107.347, -409.038},
                               {"ST", dms(43, 5, 47), 604.49, 441.402, 413.004}};

}  // namespace

// The Engineering ToolBox, "Regular Polygons", table "Area vs. Number of Sides" (read), area factors printed to 4 decimals: half
// a unit, but 0.0001 for 12 sides, which is cut off instead of rounded there (true 11.19615).
TEST_CASE("areas of regular outlines are those of the printed table", "[reference]") {
    const std::vector<std::pair<std::size_t, double>> printed = {{3, 0.4330},  {4, 1.0},     {5, 1.7205}, {6, 2.5981},
                                                                 {7, 3.6339},  {8, 4.8284},  {9, 6.1818}, {10, 7.6942},
                                                                 {11, 9.3656}, {12, 11.1961}};
    for (const auto& [n, area] : printed) {
        INFO(n);
        const Outline o = build_regular({n, RegularOutline::Of::side, 1.0});
        CHECK_THAT(0.5 * twice_area_mm2(o.corners_mm), WithinAbs(area, n == 12 ? 0.0001 : 0.00005));
    }
}

// Ratio table of regular polygons in the layout of mechanical-engineering handbooks, from memory (edition and page not looked
// up): a check of formulas, not a citation. S side, R circumradius, r inradius; 4 decimals, half a unit.
TEST_CASE("sides, radii and areas of regular outlines stand to each other as in the handbook table", "[reference][from-memory]") {
    struct Row {
        std::size_t n;
        double interior, area_by_S, area_by_R, area_by_r, R_by_S, r_by_S, S_by_R, S_by_r;
    };
    const std::vector<Row> rows = {{3, 60, 0.433, 1.299, 5.1962, 0.5774, 0.2887, 1.7321, 3.4641},
                                   {4, 90, 1, 2, 4, 0.7071, 0.5, 1.4142, 2},
                                   {5, 108, 1.7205, 2.3776, 3.6327, 0.8507, 0.6882, 1.1756, 1.4531},
                                   {6, 120, 2.5981, 2.5981, 3.4641, 1, 0.866, 1, 1.1547},
                                   {7, 128.5714, 3.6339, 2.7364, 3.371, 1.1524, 1.0383, 0.8678, 0.9631},
                                   {8, 135, 4.8284, 2.8284, 3.3137, 1.3066, 1.2071, 0.7654, 0.8284},
                                   {9, 140, 6.1818, 2.8925, 3.2757, 1.4619, 1.3737, 0.684, 0.7279},
                                   {10, 144, 7.6942, 2.9389, 3.2492, 1.618, 1.5388, 0.618, 0.6498},
                                   {12, 150, 11.1962, 3, 3.2154, 1.9319, 1.866, 0.5176, 0.5359},
                                   {16, 157.5, 20.1094, 3.0615, 3.1826, 2.5629, 2.5137, 0.3902, 0.3978}};
    constexpr double kHalfUnit = 0.00005;
    for (const Row& row : rows) {
        INFO(row.n);
        const Outline by_side = build_regular({row.n, RegularOutline::Of::side, 1.0});
        const Outline by_corners = build_regular({row.n, RegularOutline::Of::circumscribed, 2.0});
        const Outline by_flats = build_regular({row.n, RegularOutline::Of::inscribed, 2.0});
        CHECK_THAT(by_side.interior_deg[0], WithinAbs(row.interior, kHalfUnit));
        CHECK_THAT(0.5 * twice_area_mm2(by_side.corners_mm), WithinAbs(row.area_by_S, kHalfUnit));
        CHECK_THAT(0.5 * twice_area_mm2(by_corners.corners_mm), WithinAbs(row.area_by_R, kHalfUnit));
        CHECK_THAT(0.5 * twice_area_mm2(by_flats.corners_mm), WithinAbs(row.area_by_r, kHalfUnit));
        CHECK_THAT(by_corners.sides_mm[0], WithinAbs(row.S_by_R, kHalfUnit));
        CHECK_THAT(by_flats.sides_mm[0], WithinAbs(row.S_by_r, kHalfUnit));
        CHECK_THAT(1.0 / by_corners.sides_mm[0], WithinAbs(row.R_by_S, kHalfUnit));
        CHECK_THAT(1.0 / by_flats.sides_mm[0], WithinAbs(row.r_by_S, kHalfUnit));
    }
}

// Equal-leg brace tables: legs 36 and 42 from Cyclopedia of Carpentry and Building (American Technical Society), "The Steel
// Square: introductory"; 54 from William Noyes, Handwork in Wood (1910), text at Fig. 194 (both read). Printed to 0.01: half a
// unit.
TEST_CASE("a square's diagonal is the brace of the old tables, and a longer one is told", "[reference]") {
    for (const auto& [leg, brace] : std::vector<std::pair<int, double>>{{36, 50.91}, {42, 59.40}, {54, 76.37}}) {
        INFO(leg);
        const Outline o = build_rectangle({static_cast<double>(leg), static_cast<double>(leg)});
        CHECK_THAT(length(o.corners_mm[2] - o.corners_mm[0]), WithinAbs(brace, 0.005));
        const auto square_with = [&, side = std::to_string(leg) + " +-0"](const std::string& diagonal) {
            return locate_outline(project_of({"A 90 +-0", "B 90 +-0", "C 90 +-0", "D 90 +-0", "AB " + side, "BC " + side,
                                              "CD " + side, "DA " + side, "AC " + diagonal}));
        };
        const std::string printed = std::to_string(brace).substr(0, 5);
        CHECK(square_with(printed).findings().empty());
        CHECK_FALSE(square_with(printed + " +-0.001").ok());
    }
}

// Purdue University, ASM 215, "Traverse calculations", five-sided closed traverse with one inward corner (read). Lengths to 0.01,
// so latitudes and departures to half a unit, 0.005; the interior angles implied by the bearings are A 100-44, B 101-35, C 89-05,
// D 17-12, E 231-24. The printed misclosure -0.71, +0.53, 0.89 comes from the rounded legs: five of them leave 0.01 here.
TEST_CASE("a closed traverse with a reflex angle, walked clockwise: legs, angles and misclosure", "[reference]") {
    check_lines(kT1, true, true, 0.005);
    const Chain chain = chain_of(kT1, true, true);
    const std::vector<double> interior = {dms(100, 44), dms(101, 35), dms(89, 5), dms(17, 12), dms(231, 24)};
    for (std::size_t c = 0; c < 5; ++c) CHECK_THAT(chain.interior_deg[c], within_deg(interior[c], 1e-9));
    const Misclosure miss = misclosure_of(kT1, true);
    const Legs legs = on_the_map({miss.dx_mm, miss.dy_mm}, kT1[0].azimuth_deg, true);
    CHECK(miss.angle_deg == 0.0);
    CHECK_THAT(legs.latitude, WithinAbs(-0.71, 0.01));
    CHECK_THAT(legs.departure, WithinAbs(0.53, 0.01));
    CHECK_THAT(miss.length_mm, WithinAbs(0.89, 0.01));
    CHECK_THAT(miss.one_in, WithinAbs(2771.0, 2771.0 * 0.01 / 0.89));
    CHECK_THAT(miss.one_in * miss.length_mm, WithinAbs(2466.05, 1e-9));
}

// Purdue, the same page: the balanced traverse's coordinates from A (10000.00, 10000.00), printed as north, east, to 0.01. The
// closed figure of those corners must have the balanced legs (each printed to 0.01 and nudged by up to a unit so that they sum to
// nought).
TEST_CASE("the balanced traverse as points: a clockwise ring with the printed legs", "[reference]") {
    const std::vector<Vec2> east_north = {
        {10000.00, 10000.00}, {10125.66, 10255.96}, {10716.31, 10102.44}, {10523.62, 9408.37}, {10517.55, 9611.34}};
    const Result<Outline> located = locate_outline(points_project(east_north));
    REQUIRE(located.ok());
    CHECK(located.value().letters_clockwise);
    const std::vector<Legs> legs = {{255.96, 125.66}, {-153.52, 590.65}, {-694.07, -192.69}, {202.97, -6.07}, {388.66, -517.55}};
    for (std::size_t k = 0; k < 5; ++k) {
        CHECK_THAT(located.value().sides_mm[k], WithinAbs(std::hypot(legs[k].latitude, legs[k].departure), 0.015));
    }
    CHECK(located.value().interior_deg[4] > 180.0);
}

// Jerry Mahun, Open Access Surveying Library, Traverse Computations, chapter E, "Traverse with bearings", fig. E-6 (read).
// Printed to 0.001: legs to half a unit; the sums +0.083, +0.075 to 0.0005 a leg, 0.002.
TEST_CASE("a four-sided traverse to the thousandth: legs and misclosure", "[reference]") {
    check_lines(kT2, true, true, 0.0005);
    const Misclosure miss = misclosure_of(kT2, true);
    const Legs legs = on_the_map({miss.dx_mm, miss.dy_mm}, kT2[0].azimuth_deg, true);
    CHECK_THAT(legs.latitude, WithinAbs(0.083, 0.002));
    CHECK_THAT(legs.departure, WithinAbs(0.075, 0.002));
    CHECK_THAT(miss.one_in * miss.length_mm, WithinAbs(1347.57, 1e-9));
}

// The same source's adjusted legs, taken as points, give its adjusted lengths AB 472.715, BC 216.122, DA 382.237 (0.001). The
// printed adjusted length of CD, 276.479, is a misprint (its own legs give 276.497) and is left out.
TEST_CASE("adjusted legs as points give the printed adjusted lengths", "[reference]") {
    const Result<Outline> located = locate_outline(
        points_project(points_of({{-176.386, -438.574}, {203.382, -73.105}, {192.340, 198.635}, {-219.336, 313.044}})));
    REQUIRE(located.ok());
    CHECK_THAT(located.value().sides_mm[0], WithinAbs(472.715, 0.001));
    CHECK_THAT(located.value().sides_mm[1], WithinAbs(216.122, 0.001));
    CHECK_THAT(located.value().sides_mm[3], WithinAbs(382.237, 0.001));
}

// Four-course closed polygon, a textbook-type problem on a stored question-and-answer page (read): legs printed to 0.001, linear
// misclosure 4.5e-2 and precision 1 : 2.25e4, two and three digits. Its running coordinates are wrong and not used.
TEST_CASE("a traverse walked counter-clockwise: legs and misclosure", "[reference]") {
    check_lines(kT5, false, true, 0.0005);
    const Misclosure miss = misclosure_of(kT5, false);
    CHECK_THAT(miss.length_mm, WithinAbs(0.045, 0.0005));
    CHECK_THAT(miss.one_in, WithinAbs(22500.0, 50.0));
}

// Jerry Mahun, as above, chapter H, link traverse at figs. H-14 (read): an open chain between two known points. Legs to half a
// unit of 0.001; the raw sums +113.355, +336.070 to 0.0005 a leg; the ends are +113.301, +336.141 apart.
TEST_CASE("an open chain ends where the printed link traverse ends, and its span is checked", "[reference]") {
    check_lines(kT6, true, false, 0.0005);
    const Chain chain = chain_of(kT6, true, false);
    Project project = project_of(chain.sides_mm, chain.interior_deg, 0.0, 0.0, true);
    const Legs end = on_the_map(walk(chain).end_mm, kT6[0].azimuth_deg, true);
    CHECK_THAT(end.latitude, WithinAbs(113.355, 0.0015));
    CHECK_THAT(end.departure, WithinAbs(336.070, 0.0015));

    auto& readings = std::get<ReadingsOutline>(project.outline.form).readings;
    Reading span;
    span.text = "A-D";
    span.pointer = "/outline/readings/5";
    span.kind = Reading::Kind::diagonal;
    span.second = 3;
    span.value = std::hypot(113.301, 336.141);
    span.half_step = 0.0005;
    readings.push_back(span);
    const Result<Outline> checked = locate_outline(project);
    REQUIRE_FALSE(checked.ok());
    CHECK(boardring_test::find(checked.findings(), "outline.crosses") != nullptr);  // as a frame it would: ST runs through QR
    const Finding* told = boardring_test::find(checked.findings(), "outline.diagonal");
    REQUIRE(told != nullptr);
    CHECK(told->pointer == "/outline/readings/5");
}

// NPTEL course 105107122 (Surveying), module 9, lecture 28, Example 28-3 and Table 28.4 (read): angles to 20 seconds with one
// reflex, sum 539-58-20; each corner gets 20 seconds; raw and adjusted azimuths from AB 62-00-00. Half a second.
TEST_CASE("a reflex angle set: misfit, equal shares and directions as printed", "[reference]") {
    constexpr double kHalfSecond = 0.5 / 3600.0;
    Chain chain;
    chain.sides_mm.assign(5, 1.0);
    // Corner k is where side k starts: side 0 is AB, so corner 0 is A.
    chain.interior_deg = {dms(81, 28, 40), dms(106, 11, 20), dms(59, 44, 40), dms(254, 16, 20), dms(38, 17, 20)};
    CHECK_THAT(angle_misfit_deg(chain), within_deg(-dms(0, 1, 40), kHalfSecond));
    const std::vector<double> raw = {62.0, dms(135, 48, 40), dms(256, 4, 0), dms(181, 47, 40), dms(323, 30, 20)};
    const std::vector<double> adjusted = {62.0, dms(135, 48, 20), dms(256, 3, 20), dms(181, 46, 40), dms(323, 29, 0)};
    const Walk as_read = walk(chain);
    const Walk shared = walk(with_equal_shares(chain));
    for (std::size_t k = 0; k < 5; ++k) {
        CHECK_THAT(wrapped_deg(62.0 + as_read.direction_deg[k] - raw[k]), within_deg(0.0, kHalfSecond));
        CHECK_THAT(wrapped_deg(62.0 + shared.direction_deg[k] - adjusted[k]), within_deg(0.0, kHalfSecond));
    }
    CHECK_THAT(with_equal_shares(chain).interior_deg[3] - chain.interior_deg[3], within_deg(20.0 / 3600.0, 1e-9));
}

// Stored worked answer of a civil-engineering study page, compass traverse with one reflex angle (read; of the bearings only CD
// 295-45 is visible there, the others are recomputed from its rule): the angles sum to 540-00 exactly. Half a minute.
TEST_CASE("a compass traverse whose angles add up exactly returns to its first bearing", "[reference]") {
    constexpr double kHalfMinute = 0.5 / 60.0;
    Chain chain;
    chain.sides_mm.assign(5, 1.0);
    chain.interior_deg = {dms(209, 45), dms(50, 15), dms(95, 15), dms(102, 15), dms(82, 30)};
    CHECK_THAT(angle_misfit_deg(chain), within_deg(0.0, 1e-12));
    const Walk walked = walk(chain);
    // Walked the other way round: bearings fall by what the chain turns.
    CHECK_THAT(wrapped_deg(dms(150, 15) - walked.direction_deg[2] - dms(295, 45)), within_deg(0.0, kHalfMinute));
    const double last = dms(150, 15) - walked.direction_deg[4];
    CHECK_THAT(wrapped_deg(last - turn_of(chain.interior_deg[0]) - dms(150, 15)), within_deg(0.0, 1e-9));
}

// Six included angles of a closed traverse, a problem of the type in A. M. Chandra, Surveying: Problem Solving (data read on a
// stored problem page; only the inputs are theirs). Plain arithmetic: the sum is 719-56-00, so each corner gets 40 seconds.
TEST_CASE("six measured corners four minutes short share them equally", "[reference]") {
    Chain chain;
    chain.sides_mm.assign(6, 1.0);
    chain.interior_deg = {dms(120, 35, 0), dms(89, 23, 40), dms(131, 1, 0), dms(128, 2, 20), dms(94, 54, 40), dms(155, 59, 20)};
    CHECK_THAT(angle_misfit_deg(chain), within_deg(-4.0 / 60.0, 1e-9));
    const Chain shared = with_equal_shares(chain);
    for (std::size_t c = 0; c < 6; ++c)
        CHECK_THAT(shared.interior_deg[c] - chain.interior_deg[c], within_deg(40.0 / 3600.0, 1e-9));
}

// Jerry Mahun, as above, chapter J, example at fig. J-4 (sums read; closing line recomputed: 388.776 long): three legs of an open
// chain. The text says that BC was recorded as 514.95 for 541.95: two digits exchanged, found by a closed ring's sides.
TEST_CASE("the closing line of three legs, and a recorded length with two digits exchanged", "[reference]") {
    const std::vector<Legs> legs = {{-400.973, -97.808}, {-83.759, 508.092}, {367.513, -39.600}};
    std::vector<Vec2> points = points_of(legs);
    points.push_back({370.684, -117.219});
    const Result<Outline> located = locate_outline(points_project(points));
    REQUIRE(located.ok());
    CHECK_THAT(located.value().sides_mm[3], WithinAbs(388.776, 0.001));
    CHECK_THAT(located.value().sides_mm[1], WithinAbs(514.950, 0.001));

    // A ring with the true length, BC written down wrongly.
    std::vector<Legs> true_legs = legs;
    true_legs[1] = {legs[1].latitude * 541.95 / 514.95, legs[1].departure * 541.95 / 514.95};
    std::vector<Vec2> true_points = points_of(true_legs);
    true_points.push_back(true_points.back() + Vec2{true_legs[2].departure, true_legs[2].latitude});
    const Outline ring = locate_outline(points_project(true_points)).value();
    std::vector<double> sides = ring.sides_mm;
    for (double& side : sides) side = std::round(side * 100.0) / 100.0;
    CHECK(sides[1] == 541.95);
    sides[1] = 514.95;
    Project project = project_of(sides, ring.interior_deg, 0.005, 0.005);
    project.accuracy.side_mm = 0.02;
    project.accuracy.angle_deg = 0.005;
    const Result<Outline> wrong = locate_outline(project);
    REQUIRE_FALSE(wrong.ok());
    const Finding* told = boardring_test::find(wrong.findings(), "outline.misclosure");
    REQUIRE(told != nullptr);
    CHECK(told->pointer == "/outline/readings/1");
    CHECK_THAT(told->message, ContainsSubstring("Two digits may stand in each other's place."));
}

TEST_CASE("omitted measurements: the closing line of three legs, and one latitude with one departure", "[reference]") {
    // O1: J. Mahun, Open Access Surveying Library, Traverse Computations, chapter J, example at fig. J-4 (inputs and sums read; the
    // closing line recomputed: 388.776, azimuth 287-32-53). Feet, printed to 0.001. The whole last side is open, with both its angles.
    const auto leg = [](const char* name, double latitude, double departure) {
        return Line{name, degrees(std::atan2(departure, latitude)), std::hypot(latitude, departure), latitude, departure};
    };
    {
        const std::vector<Line> legs{leg("AB", -400.973, -97.808), leg("BC", -83.759, 508.092), leg("CD", 367.513, -39.600),
                                     {"DA", 0.0, 0.0, 0.0, 0.0}};
        Chain chain = chain_of(legs, false, true);
        const ChainFilling filling = fill_in(chain, {{3}, {0, 3}});
        const auto way = std::find_if(filling.ways.begin(), filling.ways.end(), [](const FilledChain& w) { return w.buildable; });
        REQUIRE(way != filling.ways.end());
        CHECK_THAT(way->chain.sides_mm[3], WithinAbs(388.776, 0.0005));
        const double azimuth = legs[0].azimuth_deg + 180.0 - way->chain.interior_deg[0];
        CHECK_THAT(wrapped_deg(azimuth - dms(287, 32, 53)), WithinAbs(0.0, 1.0 / 3600.0));
    }
    {
        // O2: exercise sheet "Closed traverse with missing data", scribd.com/document/605124901 (read). Metres, printed to 0.01:
        // latitude of 6-1 -151.38, departure of 1-2 +37.70. Those two lines as their latitudes and departures, corners of 90 between.
        const std::vector<Line> legs{leg("1-2 latitude", 84.60, 0.0), leg("1-2 departure", 0.0, 1.0),   leg("2-3", 95.32, -56.11),
                                     leg("3-4", 62.66, -57.52),       leg("4-5", -48.16, -31.40),       leg("5-6", -43.04, 59.70),
                                     leg("6-1 latitude", -1.0, 0.0),  leg("6-1 departure", 0.0, 47.63)};
        const ChainFilling filling = fill_in(chain_of(legs, false, true), {{1, 6}, {}});
        REQUIRE(filling.ways.size() == 1);
        CHECK_THAT(filling.ways[0].chain.sides_mm[1], WithinAbs(37.70, 0.005));
        CHECK_THAT(filling.ways[0].chain.sides_mm[6], WithinAbs(151.38, 0.005));
        CHECK_THAT(std::hypot(filling.ways[0].chain.sides_mm[6], 47.63), WithinAbs(158.70, 0.005));  // printed length of 6-1
    }
}
