#include "report/explain.hpp"

#include <fmt/format.h>

#include <cstdio>
#include <vector>

#include "base/suggest.hpp"
#include "commands.hpp"

namespace boardring::cli {

int run_explain(const Arguments& arguments) {
    if (arguments.code.empty()) {
        for (const std::string_view code : finding_codes()) fmt::print("{}\n", code);
        return 0;
    }
    if (const std::optional<std::string> text = explain(arguments.code)) {
        fmt::print("{}", *text);
        return 0;
    }
    // The area may be left out, so a slip in the rest alone is looked for too.
    std::vector<std::string_view> known = finding_codes();
    for (const std::string_view code : finding_codes()) known.push_back(code.substr(code.find('.') + 1));
    const std::string near = nearest_word(arguments.code, known);
    fmt::print(stderr, "I know no finding called \"{}\".{}\n", arguments.code.substr(0, 60),
               near.empty() ? " All of them: boardring explain" : " Did you mean: boardring explain " + near);
    return 2;
}

}  // namespace boardring::cli
