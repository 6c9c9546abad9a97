#include "project_input.hpp"

#include <fmt/format.h>

#include <cstdio>
#include <filesystem>

#include "files.hpp"

namespace boardring::cli {

Planned plan_project(const std::string& name) {
    Planned planned;
    const FoundProject found = find_project(name);
    if (found.path.empty()) {
        fmt::print(stderr, "{}\n", found.trouble);
        planned.exit_code = 2;
        return planned;
    }
    if (found.chosen) fmt::print(stderr, "taking {}, the only project in this folder\n", found.path);
    const FileText file = read_text(found.path);
    if (!file.text) {
        fmt::print(stderr, "{}\n", file.trouble);
        planned.exit_code = 2;
        return planned;
    }
    const bool from_input = found.path == "-";
    planned.file_name = from_input ? "standard input" : found.path;
    planned.project_name = from_input ? "-" : std::filesystem::path(found.path).replace_extension().string();

    ProjectRead read = read_project(*file.text);
    if (read.project) planned.plan = make_plan(*read.project);
    Findings findings = std::move(read.findings);
    append(findings, std::move(planned.plan.findings));
    for (Finding& finding : findings) {
        if (finding.line != 0) continue;
        const Place place = place_of(read.places, finding.pointer);
        if (place.line == place_of(read.places, "").line && !finding.pointer.empty()) continue;  // only the file itself stands for it: no help
        finding.line = place.line;
        finding.column = place.column;
    }
    planned.exit_code = has_error(findings) ? 1 : 0;
    planned.plan.findings = std::move(findings);
    return planned;
}

}  // namespace boardring::cli
