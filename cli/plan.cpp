#include <fmt/format.h>

#include <string>

#include "base/names.hpp"
#include "commands.hpp"
#include "drawing/svg.hpp"
#include "io/write_plan.hpp"
#include "next_line.hpp"
#include "out_files.hpp"
#include "project_input.hpp"
#include "report/board_drawing.hpp"
#include "report/cut_list_csv.hpp"
#include "report/plan_drawing.hpp"
#include "report/report_text.hpp"
#include "spoken/word_table.hpp"
#include "still_working.hpp"

namespace boardring::cli {
namespace {

OutFiles files_of(const Plan& plan, const PageOptions& options) {
    PageOptions whole = options;
    whole.more = true;
    OutFiles out;
    out.add("plan.json", write_plan(plan));
    out.add("report.txt", plan_page(plan, whole));
    if (plan.buying) add_buying_files(out, *plan.buying, {&plan.project});
    if (!plan.complete()) return out;
    add_papers(out, plan, options);
    out.add("cut-list.csv", cut_list_csv(plan));
    out.add("plan.svg", write_svg(draw_plan(plan)));
    for (std::size_t g = 0; g < plan.cut_list->groups.size(); ++g) {
        const PieceGroup& group = plan.cut_list->groups[g];
        if (group.members.empty()) continue;  // extra pieces are plain enough for the cut list
        out.add("board-" + board_number(group.members.front().board) + ".svg", write_svg(draw_board(plan, g)));
    }
    return out;
}

}  // namespace

int run_plan(const Arguments& arguments) {
    if (arguments.word_list) {
        fmt::print("{}", word_list());
        return 0;
    }
    const Planned planned = plan_asked(arguments, true, arguments.json ? stderr : stdout);
    if (planned.exit_code == 2) return 2;
    PageOptions options{planned.project_name, planned.file_name, arguments.more};
    int trouble = 0;
    if (arguments.out) {
        const StillWorking watch("the papers");
        trouble = write_files(folder_named(*arguments.out, planned.project_name), files_of(planned.plan, options));
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
