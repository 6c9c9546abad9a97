#pragma once
#include <string>
#include <vector>

#include "plan/last_joint.hpp"
#include "plan/plan.hpp"
#include "report/report_text.hpp"

namespace boardring {

/// The whole story of the last joint on one page.
std::string closure_page(const Plan& plan, const LastJointStudy& study, const PageOptions& options);

/// The sources of a budget as a table: source, how much, how often, share of the drawn-in opening and of the last joint held stiff.
std::vector<std::string> budget_table(const Budget& budget, const Project& project);

}  // namespace boardring
