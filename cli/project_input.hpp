#pragma once
#include <filesystem>
#include <map>
#include <string>

#include "io/read_project.hpp"
#include "plan/plan.hpp"

namespace boardring::cli {

/// A project taken the whole way, with every finding's place in the file.
struct Planned {
    Plan plan;
    std::string file_name;     ///< as messages name it: "planter.json", "standard input"
    std::string project_name;  ///< as commands name it: "planter"
    int exit_code = 0;         ///< 0, 1 errors in the project, 2 unreadable (already told on standard error)
};

/// Gives the files that a project at this path may name: those in its folder and below. A link that leads out of it is not followed.
ReadBeside files_beside(const std::filesystem::path& project);

/// Finds, reads and plans the project a command names.
Planned plan_project(const std::string& name);

}  // namespace boardring::cli
