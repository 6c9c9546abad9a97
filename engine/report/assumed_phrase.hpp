#pragma once
#include <string>

#include "project/project.hpp"

namespace boardring {

/// What to say to `boardring change` where an assumption is not so: "scale at square is 90", "kerf is 3 mm" (with what was assumed,
/// to be put right, where more than one other value could be meant); "" where there are no short words for it.
/// Law  said as it stands to the project, it is understood, and the assumption is one no more [front_test.py]
std::string phrase_about(const Assumption& assumption, const Project& project);

}  // namespace boardring
