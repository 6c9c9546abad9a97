#include <fmt/format.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <deque>
#include <string>
#include <vector>

#include "commands.hpp"
#include "next_line.hpp"
#include "out_files.hpp"
#include "plan/buying_plan.hpp"
#include "project_input.hpp"
#include "report/buying_text.hpp"
#include "report/command_text.hpp"
#include "report/finding_lines.hpp"
#include "report/report_text.hpp"
#include "still_working.hpp"

namespace boardring::cli {
namespace {

using Clock = std::chrono::steady_clock;

/// A line on standard error now and then while the search takes its time, only where somebody is watching.
BuyingLimits limits_for(double seconds, Clock::time_point start) {
    BuyingLimits limits;
    limits.keep_going = [seconds, start] { return std::chrono::duration<double>(Clock::now() - start).count() < seconds; };
    if (isatty(fileno(stderr)) != 0) {
        limits.progress = [start](double best, double bound) {
            if (Clock::now() - start < std::chrono::seconds(1)) return;
            fmt::print(stderr, "best so far {:.2f}, no plan can be below {:.2f}\n", best, bound);
        };
    }
    return limits;
}

}  // namespace

int run_buy(const Arguments& arguments) {
    const std::vector<std::string> names = arguments.files.empty() ? std::vector<std::string>{""} : arguments.files;
    std::deque<Planned> planned;
    for (const std::string& name : names) {
        planned.push_back(plan_project(name));
        const Planned& last = planned.back();
        if (last.exit_code == 2) return 2;
        if (last.exit_code != 0) {
            fmt::print(stderr, "{} has errors; nothing can be bought for it yet.\n", last.file_name);
            print_next(stderr, "boardring check " + shell_word(last.project_name));
            return last.exit_code;
        }
    }
    const Frame no_frame;  // of projects that are pieces alone
    std::vector<FrameToBuy> frames;
    std::vector<const Project*> projects;
    for (const Planned& one : planned) {
        frames.push_back({&one.plan.project, one.plan.frame ? &one.plan.exact_frame() : &no_frame, &*one.plan.cut_list});
        projects.push_back(&one.plan.project);
    }
    const StillWorking watch("what to buy");
    const Buying buying = plan_buying(frames, limits_for(arguments.time_limit_s, Clock::now()));
    if (arguments.out) {
        const std::string& named = planned.front().project_name;
        const std::string dir = !arguments.out->empty() ? *arguments.out : planned.size() > 1 || named == "-" ? "buying" : named;
        OutFiles out;
        add_buying_files(out, buying, projects);
        if (const int trouble = write_files(dir, out); trouble != 0) return trouble;
    }
    print_page(buying_page(buying, projects));
    const std::string told = findings_text(check_buying(projects, buying), PageOptions{});  // of several files: none is named
    if (!told.empty()) fmt::print("\n{}", told);
    fmt::print("\n");
    print_next(stdout, fmt::format("boardring papers {}", shell_word(planned.front().project_name)), "cards to take to the bench");
    return 0;
}

}  // namespace boardring::cli
