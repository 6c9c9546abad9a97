#pragma once
#include <string>

#include "plan/plan.hpp"

namespace boardring {

struct PageOptions {
    std::string project_name;  ///< as the maker would type it in a command: "planter"
    std::string file_name;     ///< for lines about findings: "planter.json"
    bool more = false;         ///< also the square-line table, joints, closure at every joint, sections
    bool papers_written = false;  ///< the drawings lie there already: what comes next is another thing
};

/// The page of a plan: verdict, picture, boards, angles, order, last joint, checks, care, assumptions, next. At most 100
/// characters a line. Under 40 lines without `more`; where boards, sections and settings are all unlike, a page runs on, to two
/// sheets at most, rather than hide a board of a ring of up to twelve. A plan that stopped at an error gives the refusal page
/// instead.
std::string plan_page(const Plan& plan, const PageOptions& options);

/// What `boardring check` shows: the verdicts and every finding, before wood is bought. The refusal page if any is an error.
std::string check_page(const Plan& plan, const PageOptions& options);

}  // namespace boardring
