#pragma once
#include <cstdio>
#include <filesystem>
#include <map>
#include <string>

#include "arguments.hpp"
#include "io/read_project.hpp"
#include "plan/plan.hpp"

namespace boardring::cli {

/// A project taken the whole way, with every finding's place in the file.
struct Planned {
    Plan plan;
    std::string file_name;     ///< as messages name it: "planter.json", "standard input"
    std::string project_name;  ///< as commands name it: "planter"
    bool read = false;         ///< what was asked for is known, be it buildable or not
    int exit_code = 0;         ///< 0, 1 errors in the project, 2 unreadable (already told on standard error)
};

/// Gives the files that a project at this path may name: those in its folder and below. A link that leads out of it is not followed.
ReadBeside files_beside(const std::filesystem::path& project);

/// Finds, reads and plans the project a command names.
Planned plan_project(const std::string& name);

/// Plans the text of a project file that goes by `file_name`, with the files it names beside it.
Planned plan_project_text(const std::string& text, const std::string& file_name);

/// Says on standard output what a project just written comes to: its verdict, or what is wrong first, and the next command.
void print_outcome(const std::string& path);

/// The project of `plan` and `check`: the file they name, or their sentence; a sentence's file is written if `write`, and how it was
/// read is told on `talk`.
Planned plan_asked(const Arguments& arguments, bool write, std::FILE* talk);

}  // namespace boardring::cli
