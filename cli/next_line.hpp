#pragma once
#include <cstdio>
#include <string>
#include <string_view>

namespace boardring::cli {

/// The last line of every run: NEXT and one command that makes sense now, with a word on what it does (report/page_lines.hpp).
void print_next(std::FILE* to, std::string_view command, std::string_view what_for = "");

/// A page on standard output. On a terminal its labels stand out and the verdicts have a colour; elsewhere, with NO_COLOR set, or
/// on a terminal that calls itself dumb, the text is the text. Colour never says what words do not.
void print_page(std::string_view page);

}  // namespace boardring::cli
