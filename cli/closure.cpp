#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <string>
#include <thread>

#include "commands.hpp"
#include "drawing/svg.hpp"
#include "next_line.hpp"
#include "out_files.hpp"
#include "plan/last_joint.hpp"
#include "project_input.hpp"
#include "report/closure_page.hpp"
#include "report/command_text.hpp"
#include "report/openings_drawing.hpp"
#include "report/page_parts.hpp"

namespace boardring::cli {
namespace {

using Clock = std::chrono::steady_clock;

/// A line on standard error now and then once it takes over a second, only where somebody is watching.
void watch(TrialOptions& options) {
    if (isatty(fileno(stderr)) == 0) return;
    options.progress = [start = Clock::now(), told = Clock::now()](std::size_t done) mutable {
        const Clock::time_point now = Clock::now();
        if (now - start < std::chrono::seconds(1) || now - told < std::chrono::milliseconds(500)) return;
        told = now;
        fmt::print(stderr, "{} rings tried\n", done);
    };
}

}  // namespace

int run_closure(const Arguments& arguments) {
    const Planned planned = plan_project(arguments.file);
    if (planned.exit_code == 2) return 2;
    if (planned.exit_code != 0) {
        fmt::print(stderr, "{} has errors; nothing can be said of its last joint yet.\n", planned.file_name);
        print_next(stderr, "boardring check " + shell_word(planned.project_name));
        return planned.exit_code;
    }
    TrialOptions options;
    options.runs = arguments.runs;
    options.seed = arguments.seed;
    options.threads = arguments.threads > 0 ? arguments.threads : std::max(1u, std::thread::hardware_concurrency());
    watch(options);
    const std::string next = fmt::format("boardring papers {}", shell_word(planned.project_name));
    const auto study = study_last_joint(planned.plan, options);
    if (!study) {
        const Plan& plan = planned.plan;
        const char* why = !plan.frame          ? "Pieces alone have no joints."
                          : !plan.frame->closed ? "An open chain has none; what is left shows at its free ends. The plan tells where they land."
                                                : "Nothing in \"accuracy\" is ever out, so nothing is left for it.";
        for (const std::string& line : labelled("LAST JOINT", why)) fmt::print("{}\n", line);
        print_next(stdout, next);
        return 0;
    }
    const std::string page = closure_page(planned.plan, *study, {planned.project_name, planned.file_name, false});
    print_page(page);
    fmt::print("\n");
    print_next(stdout, next, "cards to take to the bench");
    if (!arguments.out) return 0;
    OutFiles out;
    out.add("closure.txt", page);
    out.add("closure.svg", write_svg(draw_openings(planned.plan, *study)));
    return write_files(folder_named(*arguments.out, planned.project_name), out);
}

}  // namespace boardring::cli
