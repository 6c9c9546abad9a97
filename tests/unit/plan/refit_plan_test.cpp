#include "plan/refit_plan.hpp"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "support/catch.hpp"
#include "support/ring.hpp"

using namespace boardring;

namespace {

Project hexagon() {
    Project project = boardring_test::project_for(boardring_test::regular_ring(6, 400.0), std::vector<double>(6, 38.0));
    project.outline.form = RegularOutline{6, RegularOutline::Of::side, 400.0};
    return project;
}

AsCut cut(const std::vector<std::pair<std::size_t, double>>& longs) {
    AsCut as_cut;
    for (const auto& [board, mm] : longs) {
        AsCutBoard one;
        one.board = board;
        one.long_mm = mm;
        as_cut.boards.push_back(one);
    }
    return as_cut;
}

bool told(const RefitPlan& refit, const std::string& code) {
    return std::any_of(refit.findings.begin(), refit.findings.end(), [&](const Finding& f) { return f.code == code; });
}

const double kLong = 400.0 + 2.0 * 38.0 * tan_deg(30.0);  // 443.88

}  // namespace

TEST_CASE("what reads on the rule as planned changes nothing") {
    const RefitPlan refit = make_refit(hexagon(), cut({{0, 444.0}, {1, 444.0}, {2, 444.0}}), Keep::outline);
    REQUIRE(refit.frame.has_value());
    CHECK(refit.findings.empty());
    for (const std::size_t k : {3U, 4U, 5U}) CHECK_THAT(refit.shown[k].outside_length_mm, WithinAbs(kLong, 1e-9));
}

TEST_CASE("a board 2 short moves the boards that are left, and the project stays") {
    const Project project = hexagon();
    const RefitPlan refit = make_refit(project, cut({{0, 444.0}, {1, 442.0}, {2, 444.0}, {4, 444.0}}), Keep::angles);
    REQUIRE(refit.frame.has_value());
    // By hand: with all angles kept the opposite board, 5, is cut as planned; 4 and 6 give 1.88 each, as 2 does.
    for (const std::size_t k : {3U, 5U}) CHECK_THAT(refit.shown[k].inside_length_mm, WithinAbs(400.0 - (kLong - 442.0), 1e-6) || WithinAbs(400.0 + (kLong - 442.0), 1e-6));
    CHECK(refit.before.project.outline.form_pointer == project.outline.form_pointer);
    CHECK(refit.moved_mm.size() == 6);
}

TEST_CASE("what cannot be worked out anew is refused with a word") {
    Project butt = hexagon();
    butt.joints[2].kind = JointKind::butt;
    butt.joints[2].through = 2;
    CHECK(told(make_refit(butt, cut({{0, 444.0}}), Keep::outline), "refit.other-joints"));
    AsCut early = cut({{0, 444.0}});
    early.gap = DryFitGap{0, 0.0, 0.5, ""};
    CHECK(told(make_refit(hexagon(), early, Keep::outline), "refit.gap-too-early"));
    CHECK(told(make_refit(hexagon(), cut({{0, 30.0}}), Keep::outline), "refit.cannot-close"));
    Project open = hexagon();
    open.outline.open = true;
    open.outline.form = ArcOutline{500.0, 180.0, 6, ArcOutline::Fits::corners};
    open.joints.resize(7);
    CHECK(told(make_refit(open, cut({{0, 260.0}}), Keep::outline), "refit.open-chain"));
}

TEST_CASE("slips of the tape, idle diagonals and rough lengths outgrown are warned of") {
    CHECK(told(make_refit(hexagon(), cut({{0, 410.0}}), Keep::outline), "refit.far-off"));
    AsCut idle = cut({{0, 444.0}});
    idle.diagonals.push_back({2, 4, 692.8, ""});
    CHECK(told(make_refit(hexagon(), idle, Keep::outline), "refit.diagonal-uncut"));
    // The board opposite is longer, so the last one has to be: 6 more than it was sawn to.
    CHECK(told(make_refit(hexagon(), cut({{0, 444.0}, {1, 444.0}, {2, 450.0}, {3, 444.0}, {4, 444.0}}), Keep::outline), "refit.rough-length"));
}

TEST_CASE("all cut: a gap outside is planed off the inside; boards that leave more than is wanted are trimmed or cut anew") {
    AsCut all = cut({{0, 444.0}, {1, 444.0}, {2, 444.0}, {3, 444.0}, {4, 444.0}, {5, 444.0}});
    all.gap = DryFitGap{0, 0.0, 0.8, ""};
    const RefitPlan planed = make_refit(hexagon(), all, Keep::outline);
    REQUIRE(planed.last.has_value());
    CHECK(planed.last->plane_inside);
    CHECK_THAT(planed.last->plane_mm, WithinAbs(0.8, 1e-9));
    CHECK_FALSE(planed.recut.has_value());
    Project fine = hexagon();
    fine.wanted.gap_mm = 0.1;
    const RefitPlan long_one = make_refit(fine, cut({{0, 444.0}, {1, 444.0}, {2, 444.0}, {3, 452.0}, {4, 444.0}, {5, 444.0}}), Keep::outline);
    REQUIRE(long_one.recut.has_value());
    CHECK(long_one.recut->board == 3);
    CHECK(long_one.recut->trim.has_value());
    CHECK_FALSE(long_one.anew.has_value());
}

TEST_CASE("one board sawn far off is the one to cut anew, not another to be trimmed to it") {
    // Board 4 was sawn with 36 and 20 degrees instead of 30: trimming a neighbour would close the ring in another shape.
    AsCut slanted = cut({{0, 444.0}, {1, 444.0}, {2, 444.0}, {3, 448.0}, {4, 444.0}, {5, 444.0}});
    slanted.boards[3].short_mm = 394.0;
    slanted.boards[3].saw_deg = {40.0, std::nullopt};
    Project fine = hexagon();
    fine.wanted.gap_mm = 0.3;
    const RefitPlan refit = make_refit(fine, slanted, Keep::outline);
    REQUIRE(refit.recut.has_value());
    REQUIRE(refit.recut->trim.has_value());
    CHECK(refit.recut->board != 3);
    CHECK(refit.recut->moved_mm > 10.0);
    REQUIRE(refit.anew.has_value());
    CHECK(refit.anew->board == 3);
    CHECK(refit.anew->moved_mm < 0.1);  // all others are as planned
    CHECK_THAT(refit.anew->shape.inside_mm, WithinAbs(400.0, 0.1));
}
