#include <cstdio>

#include "commands.hpp"
#include "next_line.hpp"
#include "project_input.hpp"
#include "report/report_text.hpp"

namespace boardring::cli {

int run_check(const Arguments& arguments) {
    const Planned planned = plan_asked(arguments, false, stdout);
    if (planned.exit_code == 2) return 2;
    print_page(check_page(planned.plan, {planned.project_name, planned.file_name, false}));
    return planned.exit_code;
}

}  // namespace boardring::cli
