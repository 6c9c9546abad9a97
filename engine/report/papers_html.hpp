#pragma once
#include <string>

#include "plan/plan.hpp"
#include "report/report_text.hpp"

namespace boardring {

/// The papers of a plan as one HTML file: front page with the plan view, saw page, a card for every distinct piece, assembly page, a log for what
/// was cut, cautions and assumptions. No script, no network, nothing referenced: drawings and styles stand inside. Sections and
/// tables are marked up for readers of any kind; printed, every section starts a sheet and no card is cut by a page's end; light or dark
/// as the reader has set it. Every text of the project is escaped. Same plan, same bytes.
/// \param plan  complete
std::string papers_html(const Plan& plan, const PageOptions& options);

}  // namespace boardring
