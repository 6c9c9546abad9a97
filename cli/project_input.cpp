#include "project_input.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <system_error>
#include <utility>

#include "files.hpp"
#include "next_line.hpp"
#include "report/wording.hpp"
#include "spoken/word_table.hpp"
#include "spoken_project.hpp"
#include "still_working.hpp"

namespace boardring::cli {

namespace fs = std::filesystem;

ReadBeside files_beside(const fs::path& project) {
    return [folder = project.parent_path()](const std::string& name) -> BesideText {
        std::error_code trouble;
        const fs::path root = fs::canonical(folder.empty() ? fs::path(".") : folder, trouble);
        if (trouble) return {std::nullopt, "its folder cannot be read"};
        const fs::path file = fs::weakly_canonical(root / name, trouble);
        const auto [end_of_root, in_file] = std::mismatch(root.begin(), root.end(), file.begin(), file.end());
        if (trouble || end_of_root != root.end()) return {std::nullopt, "it is a link that leads out of the project's folder"};
        if (!fs::exists(file, trouble)) return {std::nullopt, "there is no such file beside the project"};
        if (!fs::is_regular_file(file, trouble)) return {std::nullopt, "it is no file"};
        FileText text = read_text(file.string());
        return {std::move(text.text), "it cannot be opened"};
    };
}

Planned plan_project(const std::string& name) {
    Planned planned;
    const FoundProject found = find_project(name);
    if (found.path.empty()) {
        fmt::print(stderr, "{}\n", found.trouble);
        print_next(stderr, found.next);
        planned.exit_code = 2;
        return planned;
    }
    if (found.chosen) fmt::print(stderr, "taking {}, the only project in this folder\n", clean_line(found.path));
    const FileText file = read_text(found.path);
    if (!file.text) {
        fmt::print(stderr, "{}\n", file.trouble);
        print_next(stderr, "boardring", "the projects of this folder");
        planned.exit_code = 2;
        return planned;
    }
    return plan_project_text(*file.text, found.path);
}

Planned plan_project_text(const std::string& text, const std::string& path) {
    Planned planned;
    const bool from_input = path == "-";
    planned.file_name = from_input ? "standard input" : clean_line(path);
    planned.project_name = from_input ? "-" : fs::path(path).replace_extension().string();

    const StillWorking watch(planned.project_name);
    ProjectRead read = read_project(text, files_beside(from_input ? fs::path() : fs::path(path)));
    planned.read = read.project.has_value();
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

Planned plan_asked(const Arguments& arguments, bool write, std::FILE* talk) {
    if (arguments.sentence.empty()) {
        const FoundProject found = find_project(arguments.file);
        const SpokenWord* shape = found.path.empty() ? nearest_shape(arguments.file) : nullptr;
        if (shape == nullptr) return plan_project(arguments.file);
        // One word may be a file or a shape: a slip in it is answered with the nearest of both.
        const std::string boards = shape->sense >= Sense::window ? "95x20" : shape->sense >= Sense::arch ? "120x30" : "145x38 on edge";
        fmt::print(stderr, "{}\nIf you mean the shape {}: say its size and its boards with it.\n", found.trouble, shape->word);
        print_next(stderr, found.near ? found.next : fmt::format("boardring plan {}, {}", shape->example, boards));
        Planned none;
        none.exit_code = 2;
        return none;
    }
    const SpokenProject spoken = project_from_sentence(arguments.sentence, write, talk);
    Planned planned;
    planned.exit_code = 2;
    if (spoken.text.empty()) return planned;
    planned = plan_project_text(spoken.text, spoken.file_name);
    if (write) return planned;
    // Nothing was written, so findings speak of the sentence itself and no command can name it.
    planned.file_name = "your sentence";
    planned.project_name = "";
    for (Finding& finding : planned.plan.findings) finding.line = finding.column = 0;
    return planned;
}

}  // namespace boardring::cli
