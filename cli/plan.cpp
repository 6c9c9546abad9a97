#include <fmt/format.h>

#include <string>
#include <utility>
#include <vector>

#include "base/names.hpp"
#include "commands.hpp"
#include "drawing/dxf.hpp"
#include "drawing/svg.hpp"
#include "io/write_plan.hpp"
#include "next_line.hpp"
#include "out_files.hpp"
#include "project_input.hpp"
#include "report/board_drawing.hpp"
#include "report/cut_list_csv.hpp"
#include "report/full_size.hpp"
#include "report/papers_html.hpp"
#include "report/plan_drawing.hpp"
#include "report/report_text.hpp"
#include "report/wording.hpp"

namespace boardring::cli {
namespace {

std::vector<NamedText> files_of(const Plan& plan, const PageOptions& options) {
    PageOptions whole = options;
    whole.more = true;
    std::vector<NamedText> files{{"plan.json", write_plan(plan)}, {"report.txt", plan_page(plan, whole)}};
    if (plan.buying) for (NamedText& file : buying_files(*plan.buying, {&plan.project})) files.push_back(std::move(file));
    if (!plan.complete()) return files;
    files.emplace_back("papers.html", papers_html(plan, options));
    files.emplace_back("cut-list.csv", cut_list_csv(plan));
    std::vector<Drawing> pages{draw_plan(plan)};
    files.emplace_back("plan.svg", write_svg(pages.front()));
    files.emplace_back("plan.dxf", write_dxf(pages.front()));
    for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
        const PieceGroup& group = plan.cut_list->groups[g];
        if (group.members.empty()) continue;  // extra pieces are plain enough for the cut list
        pages.push_back(draw_board(plan, g));
        files.emplace_back("board-" + board_number(group.members.front().board) + ".svg", write_svg(pages.back()));
    }
    const Sheet sheet = in_inches(plan.project) ? kLetter : kA4;
    add_pdf(files, "papers.pdf", make_pdf(pages, sheet, plan.project.title));
    add_pdf(files, "full-size.pdf", make_pdf(draw_full_size(plan), sheet, plan.project.title));
    return files;
}

}  // namespace

int run_plan(const Arguments& arguments) {
    const Planned planned = plan_project(arguments.file);
    if (planned.exit_code == 2) return 2;
    PageOptions options{planned.project_name, planned.file_name, arguments.more};
    int trouble = 0;
    if (arguments.out) {
        std::string dir = *arguments.out;
        if (dir.empty()) dir = planned.project_name == "-" ? "plan" : planned.project_name;
        trouble = write_files(dir, files_of(planned.plan, options));
        options.papers_written = trouble == 0;
    }
    if (arguments.json) {
        fmt::print("{}", write_plan(planned.plan));
    } else {
        print_page(plan_page(planned.plan, options));
    }
    return trouble != 0 ? trouble : planned.exit_code;
}

}  // namespace boardring::cli
