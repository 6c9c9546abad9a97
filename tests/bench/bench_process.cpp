// Whole process: `boardring plan` of a six-board demo against a program that only parses the same file. The two are started in
// turn, so that whatever else the machine does hits both; the ratio is that of the medians. Target: under 2.
#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <vector>

extern char** environ;

namespace {

double run_ms(std::vector<const char*> command) {
    command.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
    const auto start = std::chrono::steady_clock::now();
    pid_t child = 0;
    int status = 0;
    posix_spawn(&child, command[0], &actions, nullptr, const_cast<char* const*>(command.data()), environ);
    waitpid(child, &status, 0);
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
    posix_spawn_file_actions_destroy(&actions);
    return took.count();
}

double median(std::vector<double> values) {
    std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2), values.end());
    return values[values.size() / 2];
}

}  // namespace

int main() {
    constexpr int kRuns = 300;
    std::vector<double> plan, parse;
    for (int i = 0; i < kRuns; ++i) {
        parse.push_back(run_ms({ONLY_PARSES, DEMO}));
        plan.push_back(run_ms({BOARDRING_PROGRAM, "plan", DEMO}));
    }
    std::printf("whole process: plan %.2f ms, only parsing %.2f ms, ratio %.2f (target under 2)\n", median(plan), median(parse),
                median(plan) / median(parse));
}
