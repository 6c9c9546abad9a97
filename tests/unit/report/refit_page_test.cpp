#include "report/refit_page.hpp"

#include <optional>
#include <string>
#include <vector>

#include "support/catch.hpp"
#include "support/ring.hpp"

using namespace boardring;

namespace {

Project hexagon(double gap_mm) {
    Project project = boardring_test::project_for(boardring_test::regular_ring(6, 400.0), std::vector<double>(6, 38.0));
    project.outline.form = RegularOutline{6, RegularOutline::Of::side, 400.0};
    project.wanted.gap_mm = gap_mm;
    return project;
}

// All six boards as planned but the fourth.
AsCut all_but_the_fourth(double long_mm, std::optional<double> short_mm = {}) {
    AsCut as_cut;
    for (std::size_t k = 0; k < 6; ++k) {
        AsCutBoard one;
        one.board = k;
        one.long_mm = k == 3 ? long_mm : 444.0;
        if (k == 3) one.short_mm = short_mm;
        as_cut.boards.push_back(one);
    }
    return as_cut;
}

// The page with its lines joined: where they break is not looked at here.
std::string page(double gap_mm, const AsCut& as_cut) {
    std::string joined;
    for (const char c : refit_page(make_refit(hexagon(gap_mm), as_cut, Keep::outline), {"bed", "bed.json", false})) {
        const bool blank = c == ' ' || c == '\n';
        if (!blank) joined += c;
        if (blank && !joined.empty() && joined.back() != ' ') joined += ' ';
    }
    return joined;
}

}  // namespace

TEST_CASE("a board a little long: trim it, with what comes off each end") {
    const std::string said = page(0.1, all_but_the_fourth(452.0));
    CHECK_THAT(said, ContainsSubstring("Trim board 4"));
    CHECK_THAT(said, ContainsSubstring("off 4"));
    CHECK_THAT(said, !ContainsSubstring("anew"));
}

TEST_CASE("a board too short: the one opposite is trimmed as much, nothing is cut anew") {
    const std::string said = page(0.1, all_but_the_fourth(432.0));
    CHECK_THAT(said, ContainsSubstring("Trim board 1: 12 mm inside and 12 mm outside off 1B"));
    CHECK_THAT(said, !ContainsSubstring("anew"));
}

TEST_CASE("a slope far off: the board itself anew before another is trimmed to fit it") {
    AsCut slanted = all_but_the_fourth(448.0, 394.0);
    slanted.boards[3].saw_deg = {40.0, std::nullopt};
    const std::string said = page(0.3, slanted);
    CHECK_THAT(said, ContainsSubstring("Cut board 4 anew"));
    CHECK_THAT(said, ContainsSubstring("could be trimmed to close the ring, but"));
}

TEST_CASE("to plane is advice only where the ring then closes better") {
    AsCut all = all_but_the_fourth(444.0);
    all.gap = DryFitGap{0, 0.0, 0.8, ""};
    CHECK_THAT(page(3.0, all), ContainsSubstring("Plane 0.8 mm off the inside"));
    // One board of the ring short by 10, the others true: drawn in the miss is shared, and no wedge is in it.
    const std::string short_one = page(3.0, all_but_the_fourth(434.0));
    CHECK_THAT(short_one, ContainsSubstring("Drawn in as a whole"));
    CHECK_THAT(short_one, !ContainsSubstring("Plane"));
}
