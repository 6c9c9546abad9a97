#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <optional>
#include <string>
#include <thread>
#include <utility>

#include "commands.hpp"
#include "drawing/svg.hpp"
#include "next_line.hpp"
#include "out_files.hpp"
#include "plan/free_ends_study.hpp"
#include "plan/last_joint.hpp"
#include "project_input.hpp"
#include "report/closure_page.hpp"
#include "report/command_text.hpp"
#include "report/free_ends_page.hpp"
#include "report/openings_drawing.hpp"
#include "report/page_lines.hpp"

namespace boardring::cli {
namespace {

using Clock = std::chrono::steady_clock;

/// A line on standard error now and then once it takes over a second, only where somebody is watching.
void watch(TrialOptions& options, const char* what) {
    if (isatty(fileno(stderr)) == 0) return;
    options.progress = [what, start = Clock::now(), told = Clock::now()](std::size_t done) mutable {
        const Clock::time_point now = Clock::now();
        if (now - start < std::chrono::seconds(1) || now - told < std::chrono::milliseconds(500)) return;
        told = now;
        fmt::print(stderr, "{} {} tried\n", done, what);
    };
}

/// With --out writes the page and the drawing, if there is one; then prints the page. In this order, so that a reader who leaves early
/// does not cost the files.
int hand_out(const Arguments& arguments, const Planned& planned, const std::string& page, std::optional<std::string> drawing) {
    if (arguments.out) {
        OutFiles out;
        out.add("closure.txt", page);
        if (drawing) out.add("closure.svg", std::move(*drawing));
        if (const int trouble = write_files(folder_named(*arguments.out, planned.project_name), out); trouble != 0) return trouble;
    }
    print_page(page);
    fmt::print("\n");
    print_next(stdout, fmt::format("boardring papers {}", shell_word(planned.project_name)), "cards to take to the bench");
    return 0;
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
    const Plan& plan = planned.plan;
    const bool chain = plan.frame && !plan.frame->closed;
    watch(options, chain ? "chains" : "rings");
    const PageOptions page{planned.project_name, planned.file_name, false};
    if (chain) {
        if (const auto study = study_free_ends(plan, options)) return hand_out(arguments, planned, free_ends_page(plan, *study, page), std::nullopt);
    } else if (const auto study = study_last_joint(plan, options)) {
        return hand_out(arguments, planned, closure_page(plan, *study, page),
                        arguments.out ? std::optional(write_svg(draw_openings(plan, *study))) : std::nullopt);
    }
    const char* why = !plan.frame ? "Pieces alone have no joints." : "Nothing in \"accuracy\" is ever out, so nothing is left to tell.";
    fmt::print("{}", text_of(labelled(chain ? "FREE ENDS" : "LAST JOINT", why)));
    print_next(stdout, fmt::format("boardring papers {}", shell_word(planned.project_name)));
    return 0;
}

}  // namespace boardring::cli
