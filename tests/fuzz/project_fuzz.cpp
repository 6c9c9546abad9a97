// Any text as a project file: findings with a place, or a plan whose marks a second construction finds too, and papers of it.
#include <string>
#include <string_view>

#include <nlohmann/json.hpp>

#include "fuzz/driver.hpp"
#include "fuzz/laws.hpp"
#include "io/read_project.hpp"
#include "io/write_plan.hpp"
#include "plan/plan.hpp"
#include "report/papers_html.hpp"
#include "report/report_text.hpp"

using namespace boardring;

namespace {

constexpr std::size_t kMostBytes = 20000;
constexpr std::size_t kMostBoards = 60;  // larger frames are right or wrong in the same ways, and slow

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (size > kMostBytes) return 0;
    const std::string_view text = boardring_test::text_of(data, size);
    ProjectRead read = read_project(text, [](const std::string&) {
        return BesideText{R"({"format": "boardring-stock-1", "units": "mm", "stock": {"rail": {"width": 145, "thickness": 38}}})", ""};
    });
    for (const Finding& finding : read.findings) boardring_test::must(!finding.message.empty(), "a finding says what was found");
    if (!read.project) {
        boardring_test::must(!read.findings.empty(), "a file that is refused has a finding");
        return 0;
    }
    // What is on sale makes a search that may take its whole time limit; tests/property/buying_test.cpp has it.
    for (Stock& stock : read.project->stock) stock.lengths.clear();
    if (read.project->boards.size() > kMostBoards || read.project->copies > 5) return 0;
    const Plan plan = make_plan(*read.project);
    boardring_test::must(plan.complete() || plan.of_pieces_alone() || !plan.findings.empty(), "a plan that stops says why");
    boardring_test::marks_must_be_right(plan);
    const PageOptions options{"planter", "planter.json", true, false};
    boardring_test::must(!plan_page(plan, options).empty(), "there is a page");
    if (plan.complete() && !has_error(plan.findings)) papers_html(plan, options);
    boardring_test::must(nlohmann::json::accept(write_plan(plan)), "plan.json is JSON");
    return 0;
}
