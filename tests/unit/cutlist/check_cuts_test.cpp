#include <cmath>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "cutlist/cut_list.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"

using namespace boardring;
using boardring_test::outline_through;
using boardring_test::project_for;
using boardring_test::regular_ring;

namespace {

Findings checked(const Project& project, const Outline& outline) {
    const Result<Frame> made = build_frame(project, outline);
    REQUIRE(made.ok());
    return check_cuts(project, made.value());
}

std::vector<std::string> codes(const Findings& findings) {
    std::vector<std::string> all;
    for (const Finding& finding : findings) all.push_back(finding.code);
    return all;
}

using Codes = std::vector<std::string>;

// A hexagon whose board 4 is `odd` thick, all others 38, on edge, `height` high.
Findings odd_hexagon(double odd_mm, double height_mm) {
    const Outline outline = regular_ring(6, 640.0 / std::sqrt(3.0));
    Project project = project_for(outline, {38.0, 38.0, 38.0, odd_mm, 38.0, 38.0});
    for (BoardAsked& board : project.boards) board.width_mm = height_mm;
    return checked(project, outline);
}

}  // namespace

TEST_CASE("a frame the saw can cut with room to spare says nothing", "[unit][cutlist]") {
    const Outline outline = regular_ring(6, 640.0 / std::sqrt(3.0));
    CHECK(checked(project_for(outline, {38.0}), outline).empty());
}

TEST_CASE("a slope within a degree of the stop is said once for all its ends", "[unit][cutlist]") {
    // 28 beside 38 at 120: 44.7, and 145 of board is higher than the fence of 90, so only tilting is left.
    const Findings findings = odd_hexagon(28.0, 145.0);
    REQUIRE(codes(findings) == Codes{"cut.near-limit"});
    CHECK(findings[0].severity == Severity::warning);
    CHECK(findings[0].pointer == "/joints/3");
    CHECK_THAT(findings[0].message, ContainsSubstring("Ends 4D and 4E need 44.7 from square, and your saw's tilt stops at 45."));
    CHECK_THAT(findings[0].fix, ContainsSubstring("0.7 mm"));
}

TEST_CASE("a board the fence holds is swung instead, far from any stop", "[unit][cutlist]") {
    CHECK(odd_hexagon(28.0, 90.0).empty());
}

TEST_CASE("a flat board near the stop of one way is fine if the other has room", "[unit][cutlist]") {
    // 61 beside 82 at 120: tan S = (82/61 - 0.5) / 0.8660, S = 44.27. Swings to 50 lying, tilts to 45 standing.
    const Outline outline = regular_ring(6, 640.0 / std::sqrt(3.0));
    Project project = project_for(outline, {60.0});
    project.lie = Lie::flat;
    for (BoardAsked& board : project.boards) {
        board.width_mm = 82.0;
        board.thickness_mm = 18.0;
    }
    project.boards[3].width_mm = 61.0;
    CHECK(checked(project, outline).empty());
    project.tools.swing_limit_deg = 45.1;
    const Findings findings = checked(project, outline);
    REQUIRE(codes(findings) == Codes{"cut.near-limit"});
    CHECK_THAT(findings[0].message, ContainsSubstring("swing stops at 45.1."));
}

TEST_CASE("at an inward corner the butt is counted from 270", "[unit][cutlist]") {
    // Corner D is 250 inside; 20 beside 60 there is steeper than 45.
    const Outline outline = outline_through({{0, 0}, {1200, 0}, {1200, 600}, {600, 600}, {600 - 600 * std::tan(20.0 * kPi / 180.0), 1200}, {0, 1200}});
    Project project = project_for(outline, {60.0, 60.0, 60.0, 20.0, 20.0, 60.0});
    for (std::size_t c : {0U, 1U, 2U, 4U, 5U}) project.joints[c].kind = JointKind::butt;
    project.tools.swing_limit_deg = 45.0;
    const Findings findings = checked(project, outline);
    REQUIRE_FALSE(findings.empty());
    CHECK(findings[0].code == "cut.beyond-saw");
    CHECK_THAT(findings[0].message, ContainsSubstring("End 4D needs"));
    CHECK_THAT(findings[0].fix, ContainsSubstring("a butt joint at D, which needs 20;"));
    CHECK_THAT(findings[0].fix, ContainsSubstring("boards of like thickness side by side at D, which need 35;"));
}

TEST_CASE("too steep to tilt and too tall to swing is said with the fence that would do", "[unit][cutlist]") {
    // 25 beside 38: tan S = (38/25 - 0.5) / 0.8660, S = 49.67
    const Findings findings = odd_hexagon(25.0, 145.0);
    REQUIRE(codes(findings) == Codes{"cut.tall-board"});
    CHECK_THAT(findings[0].message, ContainsSubstring("Ends 4D and 4E need 49.7 from square, more than your saw tilts (45)"));
    CHECK_THAT(findings[0].message, ContainsSubstring("145 mm"));
    CHECK_THAT(findings[0].message, ContainsSubstring("90 mm"));
    CHECK_THAT(findings[0].fix, ContainsSubstring("the saw set to 40.3"));       // the jig
    CHECK_THAT(findings[0].fix, ContainsSubstring("a fence 145 mm high"));
    CHECK_THAT(findings[0].fix, ContainsSubstring("a butt joint at D and E, which needs 30;"));
    CHECK_THAT(findings[0].fix, ContainsSubstring("boards of like thickness side by side at D and E, which need 30;"));
}

TEST_CASE("beyond both motions the jig, the butt and the hand saw are named, and like boards only where boards differ", "[unit][cutlist]") {
    // The triangle frame of a corner shelf: 60 wide, flat, corners of 60.
    const Outline outline = regular_ring(3, 500.0);
    Project project = project_for(outline, {60.0});
    project.lie = Lie::flat;
    for (BoardAsked& board : project.boards) {
        board.width_mm = 60.0;
        board.thickness_mm = 18.0;
    }
    const Findings findings = checked(project, outline);
    REQUIRE(codes(findings) == Codes{"cut.beyond-saw"});
    CHECK_THAT(findings[0].message, ContainsSubstring("Ends 1A, 1B, 2B, 2C, 3C and 3A need 60 from square; your saw swings to 50 and tilts to 45."));
    CHECK_THAT(findings[0].fix, ContainsSubstring("the saw set to 30;"));
    CHECK_THAT(findings[0].fix, ContainsSubstring("a butt joint at A, B and C, which needs 30;"));
    CHECK_THAT(findings[0].fix, !ContainsSubstring("of like"));
    CHECK_THAT(findings[0].fix, ContainsSubstring("hand saw"));
}

TEST_CASE("a tip under 30 degrees is a caution, 30 itself is not", "[unit][cutlist]") {
    const auto fragile = [](double saw_deg) {
        const Outline outline = outline_through({{0, 0}, {900, 0}}, false);
        Project project = project_for(outline, {38.0});
        project.last_end.saw_deg = saw_deg;
        project.last_end.pointer = "/ends/B";
        project.tools.swing_limit_deg = project.tools.tilt_limit_deg = 70.0;
        return checked(project, outline);
    };
    CHECK(fragile(60.0).empty());
    CHECK(fragile(-60.0).empty());
    const Findings findings = fragile(-60.04);
    REQUIRE(codes(findings) == Codes{"cut.fragile-tip"});
    CHECK(findings[0].severity == Severity::caution);
    CHECK(findings[0].pointer == "/ends/B");
    CHECK_THAT(findings[0].message, ContainsSubstring("End 1B has a tip of 29.96,"));  // never "30, less than 30"
}

TEST_CASE("pieces too short to hold are named together, from the shortest to the longest", "[unit][cutlist]") {
    const Outline ring = regular_ring(12, 57.9);
    Project project = project_for(ring, {48.0});
    Findings findings = checked(project, ring);
    REQUIRE(codes(findings) == Codes{"piece.too-short"});
    CHECK(findings[0].severity == Severity::caution);
    CHECK(findings[0].pointer == "/boards/1");
    CHECK_THAT(findings[0].message, ContainsSubstring("Boards 1 to 12 are 83.5 mm long; under 300 mm"));

    const Outline oblong = outline_through({{0, 0}, {400, 0}, {400, 150}, {0, 150}});
    findings = checked(project_for(oblong, {38.0, 30.0}), oblong);
    REQUIRE_FALSE(findings.empty());
    CHECK_THAT(findings.back().message, ContainsSubstring("Boards 2 and 4 are"));
}

TEST_CASE("a piece exactly as long as may be held is not too short", "[unit][cutlist]") {
    const Outline outline = outline_through({{0, 0}, {300, 0}}, false);
    Project project = project_for(outline, {38.0});
    CHECK(checked(project, outline).empty());
    project.tools.hold_length_mm = 300.1;
    CHECK(codes(checked(project, outline)) == Codes{"piece.too-short"});
}

TEST_CASE("extra pieces are checked like boards, by their names", "[unit][cutlist]") {
    const Outline outline = regular_ring(6, 400.0);
    Project project = project_for(outline, {38.0});
    project.stock.emplace_back();
    project.stock[0].width_mm = 145.0;
    project.stock[0].thickness_mm = 38.0;
    project.pieces.push_back({"brace", 0, 80.0, 2, 63.0, -63.0, "/pieces/0"});
    const Findings findings = checked(project, outline);
    REQUIRE(codes(findings) == Codes{"cut.beyond-saw", "cut.fragile-tip", "piece.too-short"});
    for (const Finding& finding : findings) {
        CHECK(finding.pointer == "/pieces/0");
        CHECK_THAT(finding.message, ContainsSubstring("The piece \"brace\""));
    }
    CHECK_THAT(findings[0].fix, ContainsSubstring("set to 27;"));
}

TEST_CASE("long lists of ends are cut short and counted", "[unit][cutlist]") {
    const Outline outline = regular_ring(40, 400.0);
    Project project = project_for(outline, {38.0});
    project.tools.swing_limit_deg = project.tools.tilt_limit_deg = 4.0;
    const Findings findings = checked(project, outline);
    REQUIRE(codes(findings) == Codes{"cut.beyond-saw"});
    CHECK_THAT(findings[0].message, ContainsSubstring("4D, 4E and 72 more need 4.5 from square"));
    // 90 - 4.5 is beyond this saw as well, so no jig is offered.
    CHECK_THAT(findings[0].fix, !ContainsSubstring("jig"));
}

TEST_CASE("a saw whose scale reads 90 at square is told its own numbers", "[unit][cutlist]") {
    const Outline outline = regular_ring(6, 640.0 / std::sqrt(3.0));
    Project project = project_for(outline, {38.0, 38.0, 38.0, 25.0, 38.0, 38.0});
    for (BoardAsked& board : project.boards) board.width_mm = 145.0;
    project.tools.scale_at_square_deg = 90.0;
    project.tools.swing_limit_deg = 40.0;
    project.tools.tilt_limit_deg = 35.0;
    const Findings beyond = checked(project, outline);
    REQUIRE(codes(beyond) == Codes{"cut.beyond-saw"});
    CHECK_THAT(beyond[0].message, ContainsSubstring("Ends 4D and 4E need 40.3 on your saw's scale; your saw swings to 50 and tilts to 55."));
    CHECK_THAT(beyond[0].fix, ContainsSubstring("a butt joint at D and E, which needs 60"));
    project.tools.tilt_limit_deg = 50.0;
    const Findings near = checked(project, outline);
    REQUIRE(codes(near) == Codes{"cut.near-limit"});
    CHECK_THAT(near[0].message, ContainsSubstring("need 40.3 on your saw's scale, and your saw's tilt stops at 40."));
}

namespace {

// One board on edge between two walls, the second end sawn at `saw_deg`; 145 of board is higher than the fence of 90.
Findings end_at(double saw_deg, double tilt_limit_deg, double swing_limit_deg, double length_mm = 900.0) {
    const Outline outline = outline_through({{0, 0}, {length_mm, 0}}, false);
    Project project = project_for(outline, {38.0});
    project.last_end.saw_deg = saw_deg;
    project.tools.tilt_limit_deg = tilt_limit_deg;
    project.tools.swing_limit_deg = swing_limit_deg;
    return checked(project, outline);
}

}  // namespace

TEST_CASE("a stop counts as near from one degree on, and as passed from its play on", "[unit][cutlist]") {
    CHECK(end_at(43.9, 45.0, 10.0).empty());
    CHECK(codes(end_at(44.1, 45.0, 10.0)) == Codes{"cut.near-limit"});
    CHECK(codes(end_at(45.04, 45.0, 10.0)) == Codes{"cut.near-limit"});
    CHECK(codes(end_at(45.06, 45.0, 10.0)) == Codes{"cut.beyond-saw"});
    // Swinging, the saw would come there too, its play included, were the fence high enough.
    CHECK(codes(end_at(47.04, 45.0, 47.0)) == Codes{"cut.tall-board"});
    CHECK(codes(end_at(47.06, 45.0, 47.0)) == Codes{"cut.beyond-saw"});
}

TEST_CASE("a setting that is the stop but for a millionth of a degree is given the stop's own number", "[unit][cutlist]") {
    for (const double off_deg : {6e-7, 2e-6, 4e-6}) {
        const Findings findings = end_at(45.0 - off_deg, 45.0, 10.0);
        REQUIRE(codes(findings) == Codes{"cut.near-limit"});
        CHECK_THAT(findings[0].message, ContainsSubstring("needs 45 from square"));
    }
    CHECK_THAT(end_at(45.0 - 1e-3, 45.0, 10.0)[0].message, ContainsSubstring("needs 44.999 from square"));
}

TEST_CASE("lengths that differ by less than two pieces of one length are one length to the saw's holder too", "[unit][cutlist]") {
    const auto length_of = [](double length_mm) { return codes(end_at(0.0, 45.0, 50.0, length_mm)); };
    CHECK(length_of(300.0 - 0.5e-6).empty());
    CHECK(length_of(300.0 - 2e-6) == Codes{"piece.too-short"});
}

TEST_CASE("short boards are counted off from three in a row on, and told with their shortest and longest", "[unit][cutlist]") {
    // Sides of an open chain, straight on: 900, 210, 150, 900 and so on, all square.
    const auto told = [](const std::vector<double>& sides_mm) {
        std::vector<Vec2> points{{0.0, 0.0}};
        for (const double side_mm : sides_mm) points.push_back(points.back() + Vec2{side_mm, 0.0});
        const Outline outline = outline_through(points, false);
        const Findings findings = checked(project_for(outline, {38.0}), outline);
        REQUIRE(codes(findings) == Codes{"piece.too-short"});
        return findings[0].message;
    };
    CHECK_THAT(told({900.0, 210.0, 150.0, 900.0}), ContainsSubstring("Boards 2 and 3 are 150 to 210 mm long"));
    CHECK_THAT(told({900.0, 150.0, 260.0, 210.0}), ContainsSubstring("Boards 2 to 4 are 150 to 260 mm long"));
    CHECK_THAT(told({150.0, 900.0, 150.0, 900.0, 150.0}), ContainsSubstring("Boards 1, 3 and 5 are 150 mm long"));
    CHECK_THAT(told({900.0, 150.0, 900.0}), ContainsSubstring("Board 2 is 150 mm long"));
}

TEST_CASE("both ends of an extra piece are judged, whichever is the steeper, and ends alike once", "[unit][cutlist]") {
    const Outline outline = regular_ring(6, 400.0);
    const auto of_piece = [&](double left_deg, double right_deg) {
        Project project = project_for(outline, {38.0});
        project.stock.emplace_back();
        project.stock[0].width_mm = 145.0;
        project.stock[0].thickness_mm = 38.0;
        project.pieces.push_back({"brace", 0, 800.0, 2, left_deg, right_deg, "/pieces/0"});
        return codes(checked(project, outline));
    };
    const Codes two{"cut.beyond-saw", "cut.beyond-saw"}, one{"cut.beyond-saw"};
    CHECK(of_piece(58.0, 52.0) == two);
    CHECK(of_piece(52.0, 58.0) == two);
    CHECK(of_piece(-52.0, 58.0) == two);
    CHECK(of_piece(58.0, -52.0) == two);
    CHECK(of_piece(52.0, -52.0) == one);
    CHECK(of_piece(52.0, 10.0) == one);
    CHECK(of_piece(10.0, -52.0) == one);
}
