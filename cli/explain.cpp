#include "report/explain.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>
#include <vector>

#include "base/quoted.hpp"
#include "base/suggest.hpp"
#include "commands.hpp"
#include "next_line.hpp"

namespace boardring::cli {

int run_explain(const Arguments& arguments) {
    if (arguments.code.empty()) {
        for (const std::string_view code : finding_codes()) fmt::print("{}\n", code);
        if (isatty(STDOUT_FILENO) != 0) print_next(stdout, "boardring explain outline.angle-sum", "or any other of them");
        return 0;
    }
    if (const std::optional<std::string> text = explain(arguments.code)) {
        fmt::print("{}\n", *text);
        print_next(stdout, "boardring", "the projects of this folder");
        return 0;
    }
    // The area may be left out, so a slip in the rest alone is looked for too.
    std::vector<std::string_view> known = finding_codes();
    for (const std::string_view code : finding_codes()) known.push_back(code.substr(code.find('.') + 1));
    const std::string near = nearest_word(arguments.code, known);
    fmt::print(stderr, "I know no finding called {}.{}\n", boardring::in_quotes(arguments.code), near.empty() ? "" : " Did you mean " + near + "?");
    print_next(stderr, "boardring explain" + (near.empty() ? "" : " " + near), near.empty() ? "all of them" : "");
    return 2;
}

}  // namespace boardring::cli
