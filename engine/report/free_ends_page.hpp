#pragma once
#include <string>

#include "plan/free_ends_study.hpp"
#include "plan/plan.hpp"
#include "report/report_text.hpp"

namespace boardring {

/// What errors do to the free ends of an open chain, on one page.
std::string free_ends_page(const Plan& plan, const FreeEndsStudy& study, const PageOptions& options);

}  // namespace boardring
