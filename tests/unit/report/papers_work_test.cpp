#include <cmath>
#include <string>

#include "base/angle.hpp"
#include "base/vec2.hpp"
#include "report/papers.hpp"
#include "support/catch.hpp"
#include "unit/report/drawn_plans.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

// Half a ring stood on a straight edge with both end faces: how far the inner points of the faces stand off it where the outer
// ones touch. Positive: open at the inside; negative: open at the outside. Boards are laid face to face, each sawn `saw_deg` at
// both ends; nothing of the engine is used but its vectors.
double open_inside_mm(int boards, double inside_mm, double width_mm, double saw_deg) {
    Vec2 inner{0.0, 0.0}, along{1.0, 0.0};
    const Vec2 first_outer = inner + width_mm * Vec2{-tan_deg(saw_deg), -1.0};  // outside lies to the right of the way
    Vec2 last_outer = first_outer;
    const Vec2 first_inner = inner;
    for (int k = 0; k < boards; ++k) {
        inner = inner + inside_mm * along;
        const Vec2 right{along.y, -along.x};
        last_outer = inner + width_mm * right + width_mm * tan_deg(saw_deg) * along;
        const double turn = 2.0 * saw_deg;  // the next board's face lies on this one's
        along = {cos_deg(turn) * along.x - sin_deg(turn) * along.y, sin_deg(turn) * along.x + cos_deg(turn) * along.y};
    }
    // The straight edge through both outer points; the wood lies on the side of the middle of the first board.
    const Vec2 edge = last_outer - first_outer;
    const auto off = [&](Vec2 p) { return (edge.x * (p.y - first_outer.y) - edge.y * (p.x - first_outer.x)) / std::hypot(edge.x, edge.y); };
    const double wood = off(first_inner + Vec2{0.5 * inside_mm, -0.5 * width_mm}) > 0.0 ? 1.0 : -1.0;
    return 0.5 * wood * (off(first_inner) + off(inner));
}

std::string all_words(const Paper& paper) {
    std::string words;
    for (const PaperPart& part : paper.parts) {
        if (const auto* list = std::get_if<PaperList>(&part)) {
            for (const std::string& item : list->items) words += item + "\n";
        } else if (const auto* text = std::get_if<PaperText>(&part)) {
            words += text->words + "\n";
        }
    }
    return words;
}

}  // namespace

TEST_CASE("a half ring opens at the inside where its slopes are too steep, at the outside where they are too small") {
    CHECK(std::abs(open_inside_mm(3, 400.0, 38.0, 30.0)) < 1e-9);
    CHECK(open_inside_mm(3, 400.0, 38.0, 30.5) > 0.5);
    CHECK(open_inside_mm(3, 400.0, 38.0, 29.5) < -0.5);
    CHECK(open_inside_mm(4, 260.0, 90.0, 22.7) > 0.5);
    CHECK(open_inside_mm(4, 260.0, 90.0, 22.3) < -0.5);
}

TEST_CASE("the assembly paper says so, and names the boards of both halves") {
    const std::string words = all_words(assembly_paper(make_plan(hexagon_planter())));
    CHECK(words.find("One half is 3, 4 and 5, the other 1, 2 and 6.") != std::string::npos);
    CHECK(words.find("Open at the inside: the slopes are too steep, tilt less for what is still to cut. Open at the outside: tilt more.") !=
          std::string::npos);
}

TEST_CASE("a ring that has no halves to true, and one that cannot be worked out anew, are told what to do instead") {
    CHECK(all_words(assembly_paper(make_plan(l_shaped_bed()))).find("No two halves of this ring") != std::string::npos);
    const Paper log = log_paper(make_plan(lapped_frame()), {"job", "job.json", false});
    for (const PaperPart& part : log.parts) CHECK_FALSE(std::holds_alternative<PaperCommand>(part));
    CHECK(all_words(log).find("cut the board that stops there last") != std::string::npos);
}
