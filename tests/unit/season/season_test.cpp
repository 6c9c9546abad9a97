#include "season/season.hpp"

#include <cmath>
#include <fstream>
#include <string>
#include <vector>

#include "base/angle.hpp"
#include "frame/frame.hpp"
#include "season/moisture.hpp"
#include "season/species.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"
#include "support/source_folder.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

struct Built {
    Project project;
    Frame frame;
};

Built ring(std::size_t n, double width_mm, Lie lie, const std::string& species, Grain grain = Grain::flat_sawn) {
    const Outline outline = regular_ring(n, 500.0);
    Built built{project_for(outline, {width_mm}), {}};
    Project& project = built.project;
    project.lie = lie;
    Stock stock;
    stock.name = "rail";
    stock.species = species;
    stock.grain = grain;
    project.stock.push_back(stock);
    for (BoardAsked& board : project.boards) {
        board.stock = 0;
        board.width_mm = lie == Lie::flat ? width_mm : 145.0;
        board.thickness_mm = lie == Lie::flat ? 19.0 : width_mm;
    }
    project.year = Year{8.0, 14.0, 12.0, true};
    built.frame = build_frame(project, outline).value();
    return built;
}

}  // namespace

TEST_CASE("seasonal figures of a 90 mm flat frame of fir that dries by four points") {
    // trade figures, worked with C 0.00245 of white fir and 2 sin S dW: square 1.2, hexagon 0.9, octagon 0.7, 12-gon 0.5; a common
    // rule of thumb is 1/32 to 1/16 inch for a square frame.
    const double dw = 90.0 * 0.00245 * 4.0;
    for (const std::size_t n : {4U, 6U, 8U, 12U}) {
        const Built built = ring(n, 90.0, Lie::flat, "white fir");
        const SeasonResult result = move_with_the_year(built.project, built.frame);
        REQUIRE(result.season);
        const double first_order = 2.0 * sin_deg(180.0 / static_cast<double>(n)) * dw;
        for (const JointMovement& joint : result.season->joints) {
            CHECK_THAT(joint.dry_first_order_mm, within_mm(first_order, 1e-9));
            CHECK_THAT(joint.dry_mm, within_mm(first_order, 0.03 * first_order));
            CHECK(joint.dry_mm > 0.0);  // drying opens the inside
            CHECK(joint.wet_mm < 0.0);  // swelling the outside
        }
    }
}

TEST_CASE("on edge the thickness moves the joint and the width the height; flat-sawn thickness goes by the radial figure") {
    const Built built = ring(6, 38.0, Lie::on_edge, "western larch");
    const SeasonResult result = move_with_the_year(built.project, built.frame);
    REQUIRE(result.season);
    const BoardMovement& moved = result.season->boards.front();
    CHECK_THAT(moved.width_dry_mm, within_mm(38.0 * 0.00155 * 4.0, 1e-9));
    CHECK_THAT(moved.height_dry_mm, within_mm(145.0 * 0.00323 * 4.0, 1e-9));
    CHECK_THAT(moved.height_wet_mm, within_mm(-145.0 * 0.00323 * 2.0, 1e-9));
    CHECK_THAT(result.season->height_mm, within_mm(145.0 * 0.00323 * 6.0, 1e-9));
}

TEST_CASE("quarter-sawn boards move by the radial figure flat, and by the tangential one on edge") {
    const Built flat = ring(4, 90.0, Lie::flat, "white oak", Grain::quarter_sawn);
    CHECK(move_with_the_year(flat.project, flat.frame).season->boards.front().coefficient == 0.00180);
    const Built edge = ring(4, 38.0, Lie::on_edge, "white oak", Grain::quarter_sawn);
    CHECK(move_with_the_year(edge.project, edge.frame).season->boards.front().coefficient == 0.00365);
}

TEST_CASE("at an inward corner drying opens the outside") {
    const Outline outline = outline_through({{0, 0}, {900, 0}, {900, 900}, {500, 900}, {500, 500}, {0, 500}});
    Project project = project_for(outline, {60.0});
    Stock stock;
    stock.name = "rail";
    stock.species = "red oak";
    project.stock.push_back(stock);
    for (BoardAsked& board : project.boards) board.stock = 0;
    project.year = Year{6.0, 12.0, 12.0, true};
    const SeasonResult result = move_with_the_year(project, build_frame(project, outline).value());
    REQUIRE(result.season);
    for (const JointMovement& joint : result.season->joints) {
        CHECK((joint.dry_mm < 0.0) == (outline.interior_deg[joint.corner] > 180.0));
        CHECK(joint.wet_mm == 0.0);  // made in the wet month
    }
}

TEST_CASE("no change of moisture moves nothing") {
    Built built = ring(5, 70.0, Lie::flat, "black walnut");
    built.project.year = Year{9.0, 9.0, 9.0, true};
    const SeasonResult result = move_with_the_year(built.project, built.frame);
    REQUIRE(result.season);
    CHECK(result.season->widest_mm == 0.0);
    CHECK(result.findings.empty());
}

TEST_CASE("square-cut butts do not open, whatever the wood does") {
    const Outline outline = outline_through({{0, 0}, {900, 0}, {900, 600}, {0, 600}});
    Built built = ring(4, 90.0, Lie::flat, "red oak");
    for (JointAsked& joint : built.project.joints) joint.kind = JointKind::butt;
    const Frame frame = build_frame(built.project, outline).value();
    CHECK_THAT(move_with_the_year(built.project, frame).season->widest_mm, within_mm(0.0, 1e-12));
}

TEST_CASE("an unknown wood is refused with the names that could be meant, where the year is asked; else nothing is said") {
    Built built = ring(4, 90.0, Lie::flat, "oak");
    const SeasonResult asked = move_with_the_year(built.project, built.frame);
    CHECK_FALSE(asked.season);
    REQUIRE(asked.findings.size() == 1);
    CHECK(asked.findings.front().code == "season.unknown-species");
    CHECK(asked.findings.front().fix.find("white oak") != std::string::npos);
    CHECK(asked.findings.front().fix.find("red oak") != std::string::npos);
    built.project.year->asked = false;
    CHECK(move_with_the_year(built.project, built.frame).findings.empty());
    built.project.year.reset();
    CHECK_FALSE(move_with_the_year(built.project, built.frame).season);
}

TEST_CASE("of equal joints the first is named, however many there are and however they are rounded") {
    for (std::size_t n = 3; n <= 24; ++n) {
        for (const double made_pct : {12.0, 9.0}) {
            Built built = ring(n, 90.0, Lie::flat, "red oak");
            built.project.year = Year{8.0, 14.0, made_pct, true};
            // Corners by their places, so that equal slopes differ in their last bits.
            built.frame = build_frame(built.project, outline_through(regular_ring(n, 500.0).corners_mm)).value();
            const SeasonResult result = move_with_the_year(built.project, built.frame);
            CAPTURE(n, made_pct);
            CHECK(result.season->corner == result.season->joints.front().corner);
            CHECK(result.season->when_dry == (made_pct > 11.0));
            CHECK(result.season->inside == (made_pct > 11.0));
        }
    }
}

TEST_CASE("moisture outside 6 to 14 per cent is told, whichever of the three lies there") {
    Built built = ring(4, 90.0, Lie::flat, "red oak");
    const auto beyond = [&](double dry_pct, double wet_pct, double made_pct) {
        built.project.year = Year{dry_pct, wet_pct, made_pct, true};
        return move_with_the_year(built.project, built.frame).season->beyond_coefficients;
    };
    CHECK_FALSE(beyond(6.0, 14.0, 10.0));
    CHECK(beyond(5.9, 14.0, 10.0));
    CHECK(beyond(6.0, 14.1, 10.0));
    CHECK(beyond(6.0, 14.0, 14.1));
    CHECK(beyond(6.0, 14.0, 5.9));
}

TEST_CASE("the course that changes most in height is told, whichever board it is") {
    Built built = ring(5, 38.0, Lie::on_edge, "red oak");
    for (std::size_t tall = 0; tall < 5; ++tall) {
        for (std::size_t k = 0; k < 5; ++k) built.frame.boards[k].height_mm = k == tall ? 190.0 : 120.0;
        CHECK_THAT(move_with_the_year(built.project, built.frame).season->height_mm, within_mm(190.0 * find_wood("red oak")->tangential * 6.0, 1e-9));
    }
}

TEST_CASE("woods are found as people say them") {
    CHECK(find_wood("White Oak")->name == "Oak, white");
    CHECK(find_wood("oak, white")->name == "Oak, white");
    CHECK(find_wood("Douglas fir")->name == "Douglas-fir");
    CHECK(find_wood("larch")->name == "Larch, western");
    CHECK_FALSE(find_wood("oak"));
    CHECK_FALSE(find_wood("white"));
    CHECK_FALSE(find_wood("western"));
    CHECK_FALSE(find_wood(""));
    CHECK_FALSE(find_wood("teak"));
    CHECK(woods_like("redwod", 4) == std::vector<std::string>{"redwood"});
    CHECK(woods_like("oak", 2).size() == 2);
    CHECK(woods_like("xyzzy", 4).empty());
}

TEST_CASE("every wood has sensible figures and a name of its own") {
    for (const WoodMovement& wood : known_woods()) {
        CHECK(wood.radial > 0.0005);
        CHECK(wood.tangential > wood.radial);
        CHECK(wood.tangential < 0.005);
        REQUIRE(find_wood(wood.name));
        CHECK(find_wood(spoken_name(wood.name))->name == wood.name);
    }
}

TEST_CASE("the list for makers has every wood of the table, a star at those from memory") {
    std::ifstream file(source_folder() / "docs/seasons.md");
    std::string text, word;
    while (file >> word) text += (text.empty() ? "" : " ") + word;
    std::string list, kind;
    for (const WoodMovement& wood : known_woods()) {
        const std::string name(wood.name);
        const std::size_t comma = name.find(", ");
        const bool same = !kind.empty() && comma != std::string::npos && name.substr(0, comma) == kind;
        kind = name.substr(0, comma);
        std::string shown = kind;
        if (!list.empty() && kind != "Douglas-fir") shown[0] = static_cast<char>(shown[0] - 'A' + 'a');
        if (same) {
            list += ", ";
        } else {
            list += (list.empty() ? "" : " \u00b7 ") + shown + (comma == std::string::npos ? "" : " ");
        }
        if (comma != std::string::npos) list += name.substr(comma + 2);
        if (wood.from_memory) list += "*";
    }
    INFO(list);
    CHECK(text.find("## Woods with figures " + list + ". From the Wood Handbook") != std::string::npos);
}

TEST_CASE("beyond 6 to 14 per cent the shrinkage form is used, and it meets the other near by") {
    CHECK_THAT(movement_mm(100.0, 0.0025, 10.0, 14.0), within_mm(1.0, 1e-12));
    CHECK_THAT(movement_mm(100.0, 0.0025, 10.0, 15.0), within_mm(100.0 * 5.0 / (400.0 + 20.0 - 30.0 + 10.0), 1e-12));
    CHECK_THAT(movement_mm(100.0, 0.0025, 28.0, 40.0), within_mm(movement_mm(100.0, 0.0025, 28.0, 30.0), 1e-12));
}

TEST_CASE("a joint moves by the widths it has: where a board tapers, by that of the end there") {
    // Boards 1 and 2 taper from 60 to 35 towards the corner between them, where the joint is that of a ring of boards of 35, but for
    // the lean of their outer faces by 25 in 500; the others are 60 wide at every joint.
    Built built = ring(4, 60.0, Lie::on_edge, "white oak");
    built.project.boards[0].taper_mm = -25.0;
    built.project.boards[1].taper_mm = 25.0;
    built.frame = build_frame(built.project, regular_ring(4, 500.0)).value();
    REQUIRE_THAT(built.frame.boards[0].width_at(1), within_mm(35.0, 1e-9));
    REQUIRE_THAT(built.frame.boards[1].width_at(0), within_mm(35.0, 1e-9));
    const SeasonResult result = move_with_the_year(built.project, built.frame);
    const Built thin = ring(4, 35.0, Lie::on_edge, "white oak"), thick = ring(4, 60.0, Lie::on_edge, "white oak");
    const SeasonResult of_thin = move_with_the_year(thin.project, thin.frame), of_thick = move_with_the_year(thick.project, thick.frame);
    REQUIRE(result.season);
    for (const JointMovement& joint : result.season->joints) {
        const JointMovement& like = (joint.corner == 1 ? of_thin : of_thick).season->joints.front();
        CAPTURE(joint.corner);
        CHECK_THAT(joint.dry_mm, within_mm(like.dry_mm, 0.06 * std::abs(like.dry_mm)));
        CHECK_THAT(joint.wet_mm, within_mm(like.wet_mm, 0.06 * std::abs(like.wet_mm)));
    }
}
