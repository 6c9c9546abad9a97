#pragma once
#include <string>

#include "plan/refit_plan.hpp"
#include "report/report_text.hpp"

namespace boardring {

/// The page of boards worked out anew: the boards still to cut, old beside new, or what to do at the last joint; then what was cut
/// otherwise than planned, what to measure, and findings. A refusal where nothing could be worked out.
std::string refit_page(const RefitPlan& refit, const PageOptions& options);

}  // namespace boardring
