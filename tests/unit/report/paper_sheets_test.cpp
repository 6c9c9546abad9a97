#include "report/paper_sheets.hpp"

#include <string>

#include "report/drawing_parts.hpp"
#include "report/papers.hpp"
#include "support/catch.hpp"
#include "unit/report/drawing_checks.hpp"
#include "unit/report/drawn_plans.hpp"

using namespace boardring;
using namespace boardring_test;

namespace {

Project wordy(Project project) {
    project.title = "A title that goes on and on, with <b>markup</b>, \"quotes\" and " + std::string(120, 'w');
    return project;
}

}  // namespace

TEST_CASE("sheets fit both papers; their texts stay on them, are legible, and do not run into each other") {
    for (const Project& project : {hexagon_planter(), l_shaped_bed(), door_casing(), lapped_frame(), gate_arch(), wordy(hexagon_planter())}) {
        const Plan plan = make_plan(project);
        const std::vector<Paper> papers = papers_of(plan, {"job", "job.json", false});
        const std::vector<Drawing> sheets = paper_sheets(papers, papers_heading(plan));
        CAPTURE(project.title);
        REQUIRE(sheets.size() >= papers.size());
        for (const Drawing& sheet : sheets) {
            CAPTURE(sheet.title);
            const Vec2 size = (1.0 / sheet.scale) * (sheet.page_high - sheet.page_low);
            CHECK(std::min(size.x, size.y) <= kPaperShortMm + 1e-9);
            CHECK(std::max(size.x, size.y) <= kPaperLongMm + 1e-9);
            CHECK(overlapping_labels(sheet) == "");
            CHECK(label_off_page(sheet) == "");
            CHECK(smallest_text_mm(sheet) >= kSmallMm - 1e-9);
        }
    }
}

TEST_CASE("a table that goes on over a sheet's end loses no row and has its head again") {
    Paper paper{"log", "What was cut", {}};
    PaperTable table{"Every board", {"board", "long", "found"}, {PaperTable::Column::words, PaperTable::Column::big, PaperTable::Column::room}, {}};
    for (int k = 1; k <= 80; ++k) table.rows.push_back({"board " + std::to_string(k), std::to_string(1000 + k), ""});
    paper.parts.emplace_back(table);
    const std::vector<Drawing> sheets = paper_sheets({paper}, "Job");
    REQUIRE(sheets.size() > 2);
    std::size_t heads = 0;
    for (const Drawing& sheet : sheets) heads += count_labels(sheet, "long");
    CHECK(heads == sheets.size());
    for (int k = 1; k <= 80; ++k) {
        std::size_t found = 0;
        for (const Drawing& sheet : sheets) found += count_labels(sheet, std::to_string(1000 + k));
        CHECK(found == 1);
    }
}

TEST_CASE("long words in one column leave the numbers of the others whole") {
    PaperTable table{"Cuts", {"set", "test", "ends"}, {PaperTable::Column::big, PaperTable::Column::words, PaperTable::Column::words}, {}};
    std::string ends;
    for (int k = 1; k <= 120; ++k) ends += std::to_string(k) + "A, ";
    table.rows.push_back({"66.9", "past your saw's stop; with one at 72.9 it must make 174, as at I", ends});
    const std::vector<Drawing> sheets = paper_sheets({Paper{"saw", "At the saw", {table}}}, "Job");
    REQUIRE(sheets.size() == 1);
    CHECK(count_labels(sheets.front(), "66.9") == 1);
    CHECK(label_off_page(sheets.front()) == "");
    CHECK(overlapping_labels(sheets.front()) == "");
}

TEST_CASE("what is set or marked stands five millimetres high") {
    const Plan plan = make_plan(hexagon_planter());
    const std::vector<Drawing> sheets = paper_sheets({saw_paper(plan), log_paper(plan, {"job", "job.json", false})}, "Job");
    std::size_t seen = 0;
    for (const Drawing& sheet : sheets) {
        for (const Label& label : sheet.labels) {
            if (label.text != "44.7" && label.text != "413.5") continue;
            CHECK(label.height == Approx(kNumberMm));
            ++seen;
        }
    }
    CHECK(seen >= 4);
}

TEST_CASE("the log's command names every board and the last joint, as refit reads them") {
    const Plan plan = make_plan(hexagon_planter());
    const Paper log = log_paper(plan, {"job", "job.json", false});
    std::string commands;
    for (const PaperPart& part : log.parts) {
        if (const auto* command = std::get_if<PaperCommand>(&part)) commands += command->line + "\n";
    }
    CHECK(commands.find("boardring refit job 1=________/________ 2=") == 0);
    CHECK(commands.find(" 6=________/________ A=________/________\n") != std::string::npos);
}

TEST_CASE("a heading too long for the foot of a sheet ends where it has a comma, not within a phrase") {
    Project project = hexagon_planter();
    project.courses = 2;
    const Plan plan = make_plan(project);
    const std::vector<Drawing> sheets = paper_sheets(papers_of(plan, {"job", "job.json", false}), papers_heading(plan));
    REQUIRE(papers_heading(plan).ends_with(", two courses of 145"));
    CHECK(count_labels(sheets.front(), "The frame, sheet 1 of 1: Courtyard planter - hexagon, 640 over the flats inside") == 1);
}
