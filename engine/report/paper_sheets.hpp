#pragma once
#include <vector>

#include "drawing/drawing.hpp"
#include "report/papers.hpp"

namespace boardring {

/// The papers set on sheets that fit both common paper sizes: words and tables at 1 mm of the sheet to the drawing unit, every card a
/// sheet of its own, as drawn. What is set on a saw or marked stands 5 mm high, other text 3 mm, or 2.5 mm in a table that would
/// else be too wide. No row and no line is cut by the end of a sheet; a table that goes on has its head again, and every set
/// sheet says at its foot what it belongs to.
/// \param heading  of the whole job, for the feet
std::vector<Drawing> paper_sheets(const std::vector<Paper>& papers, const std::string& heading);

}  // namespace boardring
