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
#include "report/page_parts.hpp"
#include "report/report_text.hpp"
#include "report/wording.hpp"
#include "still_working.hpp"

namespace boardring::cli {

int run_papers(const Arguments& arguments) {
    const Planned planned = plan_project(arguments.file);
    if (planned.exit_code == 2) return 2;
    const PageOptions options{planned.project_name, planned.file_name, false};
    if (planned.exit_code != 0) {
        print_page(plan_page(planned.plan, options));
        return planned.exit_code;
    }
    if (!planned.plan.complete()) {
        fmt::print("{}: these are pieces alone, no ring; how they are sawn stands in the purchase.\n", planned.file_name);
        print_next(stdout, fmt::format("boardring buy {} --out", shell_word(planned.project_name)));
        return 0;
    }
    const std::string dir = folder_named(arguments.out.value_or(""), planned.project_name);
    OutFiles out;
    const StillWorking watch("the papers");
    add_papers(out, planned.plan, options);
    if (const int trouble = write_files(dir, out); trouble != 0) return trouble;
    for (const auto& [label, words] : {std::pair("READ", fmt::format("{}/papers.html, on a phone, a tablet or a screen.", dir)),
                                       std::pair("PRINT", fmt::format("{0}/papers.pdf, and {0}/full-size.pdf for the bevel: at 100 %, not fitted to the "
                                                                      "page. Lay your rule on the check bars first.",
                                                                      dir))}) {
        for (const std::string& line : labelled(label, words)) fmt::print("{}\n", line);
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
