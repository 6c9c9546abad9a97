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
#include "report/command_text.hpp"
#include "report/cut_list_csv.hpp"
#include "report/page_lines.hpp"
#include "report/plan_drawing.hpp"
#include "report/report_text.hpp"
#include "spoken/tell_project.hpp"
#include "spoken/word_table.hpp"
#include "spoken_project.hpp"
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

int list_words() {
    fmt::print("{}", word_list());
    return 0;
}

// The project as a sentence, to be said again with another size, or to somebody else; and what stands only in its file.
int tell_in_words(const Arguments& arguments) {
    const Planned planned = plan_asked(arguments, false, stderr);
    if (planned.exit_code == 2) return 2;
    if (!planned.read) {
        print_page(plan_page(planned.plan, {planned.project_name, planned.file_name, false}));
        return 1;
    }
    const ProjectTold told = tell_project(planned.plan.project);
    Lines lines;
    if (!told.sentence.empty()) lines = plan_command("IN WORDS", told.sentence, kLabelColumns);
    std::string parts;
    for (const std::string& part : told.left_out) parts += (parts.empty() ? "" : "; ") + part;
    if (!parts.empty()) append_lines(lines, labelled("NO WORDS", fmt::format("for {}: only the file can say it", parts)));
    fmt::print("{}\n", text_of(lines));
    print_next(stdout, told.sentence.empty() ? "boardring plan " + shell_word(planned.project_name) : "boardring plan --words", told.sentence.empty() ? "" : "all the words I know");
    return 0;
}

}  // namespace

int run_plan(const Arguments& arguments) {
    if (arguments.word_list) return arguments.words.empty() ? list_words() : tell_in_words(arguments);
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
