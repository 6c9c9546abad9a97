#pragma once
#include <string>

#include "base/finding.hpp"
#include "report/report_text.hpp"

namespace boardring {

/// Findings for a maker to read, in the order given: what was found, what to do, the command that does it where the mend is
/// certain and the project has a name, and small at the end of a line where it stands and how to read more. At most 20 of them,
/// and how many more. "" for none.
std::string findings_text(const Findings& findings, const PageOptions& options);

/// The page of a project that cannot be planned: the verdict, then every error.
/// \param findings  at least one of them an error; others are shown after the errors
std::string refusal_page(const Findings& findings, const PageOptions& options);

/// "(planter.json line 12)   more: boardring explain joint.undercut"; the place is left out where it is not known.
std::string place_and_code(const Finding& finding, const std::string& file_name);

}  // namespace boardring
