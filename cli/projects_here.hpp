#pragma once
#include <string>
#include <vector>

namespace boardring::cli {

/// A project file of this folder.
struct ProjectHere {
    std::string name;   ///< as commands name it: "planter"
    std::string title;  ///< "" if it has none
};

/// Those of the current folder by name, old ones that `change` kept left out; at most 1000 files are looked at.
std::vector<ProjectHere> projects_here();

/// What `boardring` alone says: how to start, and which projects lie here.
std::string how_to_start();

}  // namespace boardring::cli
