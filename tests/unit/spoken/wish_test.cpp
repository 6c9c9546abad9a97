// Sizes from a wish, each held to a construction of its own: areas and circles from school, and the total length of the boards.
#include <cmath>
#include <string>
#include <variant>

#include "io/read_project.hpp"
#include "spoken/sentence.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

RegularOutline regular_of(const std::string& sentence) {
    const SentenceRead read = read_sentence(sentence);
    INFO(sentence);
    INFO((read.findings.empty() ? "" : read.findings.front().message));
    REQUIRE(!read.project_text.empty());
    const ProjectRead project = read_project(read.project_text);
    REQUIRE(project.project.has_value());
    const auto* regular = std::get_if<RegularOutline>(&project.project->outline.form);
    REQUIRE(regular != nullptr);
    return *regular;
}

// Area of a ring of n corners from its inscribed diameter.
double area_mm2(std::size_t corners, double inscribed_mm) {
    const double half = inscribed_mm / 2.0;
    return static_cast<double>(corners) * half * half * std::tan(3.14159265358979323846 / static_cast<double>(corners));
}

}  // namespace

TEST_CASE("a ring that fits round a thing touches it with every side") {
    const RegularOutline hexagon = regular_of("hexagon fits round 400, 145x28 on edge");
    CHECK(hexagon.of == RegularOutline::Of::over_flats);
    CHECK(hexagon.size_mm == 400.0);
    const RegularOutline pentagon = regular_of("pentagon fits round 400, 145x28 on edge");
    CHECK(pentagon.of == RegularOutline::Of::inscribed);
    CHECK(pentagon.size_mm == 400.0);
}

TEST_CASE("a ring of about so many litres is the nearest step to them") {
    for (const double litres : {20.0, 90.0, 333.0}) {
        const RegularOutline ring = regular_of("hexagon about " + std::to_string(static_cast<int>(litres)) + " litres, 145x28 on edge, two courses");
        const auto held = [](double size_mm) { return area_mm2(6, size_mm) * 290.0 * 1e-6; };
        CHECK(std::fmod(ring.size_mm, 5.0) == 0.0);
        CHECK(held(ring.size_mm - 2.5) < litres);
        CHECK(held(ring.size_mm + 2.5) > litres);
    }
}

TEST_CASE("a ring stands on its place, and one step more would not") {
    // With board 1 along the length a hexagon is its flats deep and 2 / sqrt 3 of them long.
    const auto stands = [](double flats_mm, double length_mm, double width_mm) { return flats_mm <= width_mm && flats_mm * 2.0 / std::sqrt(3.0) <= length_mm; };
    const RegularOutline deep = regular_of("hexagon stands on 800 by 600, 145x28 on edge");
    CHECK(deep.of == RegularOutline::Of::over_flats);
    CHECK(deep.size_mm == 600.0);
    CHECK(stands(deep.size_mm, 800.0, 600.0));
    CHECK(!stands(deep.size_mm + 5.0, 800.0, 600.0));
    const RegularOutline narrow = regular_of("hexagon stands on 500 by 600, 145x28 on edge");
    CHECK(stands(narrow.size_mm, 500.0, 600.0));
    CHECK(!stands(narrow.size_mm + 5.0, 500.0, 600.0));
}

TEST_CASE("as large as the boards give: those pieces come out of them, and their outside is not longer than all of them") {
    const RegularOutline ring = regular_of("hexagon as large as my boards give, 145x28 on edge, have 2 of 1.8 m");
    CHECK(ring.of == RegularOutline::Of::over_flats);
    // Outside: 28 mm further out on both sides.
    const double outside_mm = (ring.size_mm + 56.0) * 2.0 * std::sqrt(3.0);
    CHECK(outside_mm < 3600.0);
    // Three of a board: two saw cuts, both ends trimmed and a test piece of the length that can be held take less than 600 mm.
    CHECK(outside_mm > 3600.0 - 2.0 * 600.0);
}
