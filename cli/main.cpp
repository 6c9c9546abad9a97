#include <cstdio>
#include <exception>
#include <system_error>

#include "arguments.hpp"
#include "commands.hpp"
#include "next_line.hpp"
#include "standard_streams.hpp"

namespace {

int run(const boardring::cli::Arguments& arguments) {
    using namespace boardring::cli;
    switch (arguments.command) {
        case Command::plan: return run_plan(arguments);
        case Command::check: return run_check(arguments);
        case Command::new_project: return run_new(arguments);
        case Command::joint: return run_joint(arguments);
        case Command::papers: return run_papers(arguments);
        case Command::buy: return run_buy(arguments);
        case Command::change: return run_change(arguments);
        case Command::refit: return run_refit(arguments);
        case Command::closure: return run_closure(arguments);
        case Command::explain: return run_explain(arguments);
        case Command::describe: return run_describe(arguments);
        case Command::none: break;
    }
    return 2;
}

}  // namespace

int main(int argc, char** argv) {
    boardring::cli::prepare_streams();
    try {
        const boardring::cli::ParsedArguments parsed = boardring::cli::parse_arguments(argc, argv);
        if (!parsed.arguments) {
            std::fputs(parsed.text.c_str(), parsed.exit_code == 0 ? stdout : stderr);
            if (!parsed.next.empty()) boardring::cli::print_next(stderr, parsed.next);
            return boardring::cli::finish_streams(parsed.exit_code);
        }
        return boardring::cli::finish_streams(run(*parsed.arguments));
    } catch (const std::exception& bug) {
        const auto* const failed = dynamic_cast<const std::system_error*>(&bug);
        if (failed != nullptr && boardring::cli::stream_failed()) return boardring::cli::finish_streams(2, failed->code().value());
        std::fprintf(stderr,
                     "This is our bug, not yours: %s\nNothing was changed. Please report it with the project file and the command.\n",
                     bug.what());
        return 3;
    }
}
