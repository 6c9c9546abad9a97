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

/// A standard deviation in the unit of its kind: "0.2 deg", "0.5 mm", "0.2 mm in a metre".
std::string sd_words(ErrorKind kind, double sd, const Project& project);

/// A share in words that never promise: "97 of 100", "fewer than 1 of 100", "more than 99 of 100".
std::string of_hundred(double share);

/// A share in whole per cent: "18 %", "< 1 %", "0 %".
std::string share_words(double share);

}  // namespace boardring
