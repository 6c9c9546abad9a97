#include <fmt/format.h>

#include <cstdio>
#include <string>
#include <vector>

#include "commands.hpp"
#include "files.hpp"
#include "io/read_as_cut.hpp"
#include "next_line.hpp"
#include "plan/refit_plan.hpp"
#include "project_input.hpp"
#include "report/command_text.hpp"
#include "report/finding_lines.hpp"
#include "report/refit_page.hpp"
#include "report/report_text.hpp"
#include "report/wording.hpp"
#include "still_working.hpp"

namespace boardring::cli {

int run_refit(const Arguments& arguments) {
    const Planned planned = plan_project(arguments.file);
    if (planned.exit_code == 2) return 2;
    const PageOptions options{planned.project_name, planned.file_name, false};
    if (planned.exit_code != 0) {
        fmt::print("{}", check_page(planned.plan, options));
        return planned.exit_code;
    }
    AsCutRead read;
    const bool one_file = arguments.measured.size() == 1 && arguments.measured.front().find('=') == std::string::npos;
    if (one_file) {
        const FileText file = read_text(arguments.measured.front());
        if (!file.text) {
            fmt::print(stderr, "{}\n", file.trouble);
            return 2;
        }
        read = read_as_cut(*file.text, planned.plan.project);
    } else {
        read = read_as_cut_words(arguments.measured, planned.plan.project);
    }
    if (!read.as_cut) {
        fmt::print(stderr, "{}", findings_text(read.findings, PageOptions{arguments.file, one_file ? arguments.measured.front() : ""}));
        const std::string measured = shell_word(shown(planned.plan.shown.front().long_point_mm, planned.plan.project));
        print_next(stderr, fmt::format("boardring refit {} 1={}", shell_word(planned.project_name), measured), "as you measured it");
        return 2;
    }
    const Keep keep = arguments.keep == "angles" ? Keep::angles : arguments.keep == "lengths" ? Keep::lengths : Keep::outline;
    const StillWorking watch("the boards still to cut");
    const RefitPlan refit = make_refit(planned.plan.project, *read.as_cut, keep);
    fmt::print("{}", refit_page(refit, options));
    return has_error(refit.findings) ? 1 : 0;
}

}  // namespace boardring::cli
