#include "report/papers_html.hpp"

#include <cstddef>
#include <string>

#include "base/names.hpp"
#include "report/sawing_order.hpp"
#include "report/wording.hpp"
#include "support/catch.hpp"
#include "unit/report/drawn_plans.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

std::size_t count_of(const std::string& text, const std::string& what) {
    std::size_t count = 0;
    for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++count;
    return count;
}

}  // namespace

TEST_CASE("papers hold a card for every distinct piece, a row for every board, and every assumption") {
    for (const Project& project : {hexagon_planter(), l_shaped_bed(), door_casing(), lapped_frame(), gate_arch()}) {
        const Plan plan = make_plan(project);
        const std::string page = papers_html(plan, {"job", "job.json", false});
        const std::size_t long_boards = plan.buying ? sawn_boards(*plan.buying).size() : 0;
        CHECK(count_of(page, "<article") == 1 + plan.cut_list->groups.size() + long_boards);  // the plan, cards, long boards
        CHECK(count_of(page, "<svg") == count_of(page, "<article"));
        for (std::size_t k = 0; k < plan.shown.size(); ++k)
            CHECK(page.find("<th scope=\"row\" class=\"words\">" + board_number(k) + "</th>") != std::string::npos);
        for (const Assumption& assumption : plan.project.assumed) CHECK(page.find(assumption.pointer) != std::string::npos);
        CHECK(page.find("<!DOCTYPE html>") == 0);
        CHECK(page.find("nan") == std::string::npos);
    }
}

TEST_CASE("the saw page tells what two cuts of a corner must make together") {
    const Plan plan = make_plan(hexagon_planter());
    const std::string page = papers_html(plan, {"job", "job.json", false});
    CHECK(page.find("two test pieces together must make 120") != std::string::npos);
    CHECK(page.find("with one at 44.7 it must make 120, as at D") != std::string::npos);
}

TEST_CASE("texts of a project cannot leave their place in the markup") {
    Project project = hexagon_planter();
    project.title = "<script>alert(1)</script>\" onload=\"x";
    project.assumed.push_back({"/boards/courses", "one course"});
    const std::string page = papers_html(make_plan(project), {"<i>", "a&b.json", false});
    CHECK(page.find("<script") == std::string::npos);
    CHECK(page.find("<i>") == std::string::npos);
    CHECK(page.find("&lt;script&gt;alert(1)&lt;/script&gt;&quot; onload=&quot;x") != std::string::npos);
    CHECK(page.find("a&amp;b.json") != std::string::npos);
}
