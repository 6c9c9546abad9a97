#pragma once
#include <string>
#include <vector>

#include "plan/buying_plan.hpp"
#include "project/project.hpp"

namespace boardring {

/// The purchase in a few sentences for the page of a plan: what to take, what it costs, and whether anything cheaper exists. "" where no
/// lengths were given for any section. `projects` are the frames bought for; the first one's units are used.
std::string bought_words(const Buying& buying, const std::vector<const Project*>& projects);

/// What `boardring buy` shows: what to take with its proof in words, the shopping list, then every long board with its marks.
std::string buying_page(const Buying& buying, const std::vector<const Project*>& projects);

}  // namespace boardring
