#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <string>

#include "commands.hpp"
#include "next_line.hpp"
#include "project_input.hpp"
#include "report/page_lines.hpp"
#include "report/report_text.hpp"
#include "spoken_project.hpp"

namespace boardring::cli {

int run_check(const Arguments& arguments) {
    const Planned planned = plan_asked(arguments, false, stdout);
    if (planned.exit_code == 2) return 2;
    std::string page = check_page(planned.plan, {planned.project_name, planned.file_name, false});
    if (arguments.sentence.empty()) {
        print_page(page);
        return planned.exit_code;
    }
    // There is no file yet that a command could name.
    page.erase(std::min(page.rfind("\nNEXT") + 1, page.size()));
    print_page(page);
    if (planned.exit_code == 0) {
        fmt::print("{}", text_of(plan_command("NEXT", arguments.sentence, kLabelColumns)));
    } else {
        print_next(stdout, "boardring plan --words", "what can be said otherwise");
    }
    return planned.exit_code;
}

}  // namespace boardring::cli
