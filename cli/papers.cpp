#include <fmt/format.h>

#include <cstdio>
#include <string>
#include <utility>

#include "commands.hpp"
#include "next_line.hpp"
#include "out_files.hpp"
#include "plan/refit_plan.hpp"
#include "project_input.hpp"
#include "report/command_text.hpp"
#include "report/page_lines.hpp"
#include "report/report_text.hpp"
#include "report/wording.hpp"
#include "still_working.hpp"

namespace boardring::cli {
namespace {

// Pieces without a ring have one kind of paper: how the long boards are sawn.
int print_pieces(const Planned& planned, const std::string& dir) {
    const std::string name = shell_word(planned.project_name);
    if (!planned.plan.buying || !planned.plan.buying->has_offers()) {
        fmt::print("{}", text_of(labelled("PAPERS", "Pieces alone have one paper, how every long board is sawn; for that I must know which lengths are on "
                                                    "sale: add \"lengths\" to the stock.")));
        print_next(stdout, "boardring plan " + name);
        return 0;
    }
    OutFiles out;
    add_buying_files(out, *planned.plan.buying, {&planned.plan.project});
    if (const int trouble = write_files(dir, out); trouble != 0) return trouble;
    fmt::print("{}", text_of(labelled("PRINT", fmt::format("{}/sawing-order.pdf: every long board and its marks.", clean_line(dir)))));
    print_next(stdout, "boardring buy " + name, "the same in words, and what to buy");
    return 0;
}

}  // namespace

int run_papers(const Arguments& arguments) {
    const Planned planned = plan_project(arguments.file);
    if (planned.exit_code == 2) return 2;
    const PageOptions options{planned.project_name, planned.file_name, false};
    if (planned.exit_code != 0) {
        print_page(plan_page(planned.plan, options));
        return planned.exit_code;
    }
    if (!planned.plan.complete()) {
        return print_pieces(planned, folder_named(arguments.out.value_or(""), planned.project_name));
    }
    const std::string dir = folder_named(arguments.out.value_or(""), planned.project_name);
    const std::string shown_dir = clean_line(dir);
    OutFiles out;
    const StillWorking watch("the papers");
    add_papers(out, planned.plan, options);
    if (const int trouble = write_files(dir, out); trouble != 0) return trouble;
    for (const auto& [label, words] : {std::pair("READ", fmt::format("{}/papers.html, on a phone, a tablet or a screen.", shown_dir)),
                                       std::pair("PRINT", fmt::format("{0}/papers.pdf, and {0}/full-size.pdf for the bevel: at 100 %, not fitted to the "
                                                                      "page. Lay your rule on the check bars first.",
                                                                      shown_dir))}) {
        fmt::print("{}", text_of(labelled(label, words)));
    }
    const Plan& plan = planned.plan;
    const std::string name = shell_word(planned.project_name);
    if (can_be_refitted(plan.project)) {
        print_next(stdout, fmt::format("boardring refit {} 1={}", name, shell_word(shown(plan.shown.front().long_point_mm, plan.project))),
                   "the rest anew, once board 1 is cut");
    } else {
        print_next(stdout, "boardring buy " + name, "how to saw every long board");
    }
    return 0;
}

}  // namespace boardring::cli
