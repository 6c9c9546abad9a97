#pragma once
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "pdf_library.hpp"
#include "plan/buying_plan.hpp"

namespace boardring::cli {

/// A file's name and what it holds.
using NamedText = std::pair<std::string, std::string>;

/// Adds a PDF under `name`; where there is none, says why on standard error.
void add_pdf(std::vector<NamedText>& files, const char* name, const Pdf& pdf);

/// What is bought and how it is sawn, as files: buying.txt, buying.csv, wood-left.json, long-board-N.svg and, where it can be made,
/// sawing-order.pdf. None where no lengths are on offer.
std::vector<NamedText> buying_files(const Buying& buying, const std::vector<const Project*>& projects);

/// Writes all of them into `dir`, made if need be, and says so on standard error. 0, or 2 after telling what went wrong.
int write_files(const std::filesystem::path& dir, const std::vector<NamedText>& files);

}  // namespace boardring::cli
