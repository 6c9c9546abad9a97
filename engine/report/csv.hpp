#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace boardring {

/// The maker's own text as a cell: what a spreadsheet would take for a formula gets an apostrophe before it.
std::string text_cell(std::string_view text);

/// One more line of a table (RFC 4180): cells parted by commas, quoted where they must be, ended by CR LF.
void add_csv_row(std::string& text, const std::vector<std::string>& row);

}  // namespace boardring
