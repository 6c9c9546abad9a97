#pragma once
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "pdf_library.hpp"
#include "plan/buying_plan.hpp"
#include "plan/plan.hpp"
#include "report/report_text.hpp"

namespace boardring::cli {

/// A file's name and what it holds.
using NamedText = std::pair<std::string, std::string>;

/// What goes into a folder, and the PDFs that could not be made.
struct OutFiles {
    std::vector<NamedText> files;
    std::vector<std::string> missing;  ///< names of those PDFs
    std::string why_missing;           ///< "" if there are none

    void add(std::string name, std::string text) { files.emplace_back(std::move(name), std::move(text)); }
    void add_pdf(const char* name, const Pdf& pdf);
};

/// What is bought and how it is sawn: buying.txt, buying.csv, wood-left.json, long-board-N.svg and sawing-order.pdf. None where no
/// lengths are on offer.
void add_buying_files(OutFiles& out, const Buying& buying, const std::vector<const Project*>& projects);

/// What is taken to the bench: papers.html, papers.pdf, full-size.pdf and plan.dxf. \param plan  complete
void add_papers(OutFiles& out, const Plan& plan, const PageOptions& options);

/// The folder asked for; the empty name is one called after the project.
std::string folder_named(const std::string& asked, const std::string& project_name);

/// Writes all of them into `dir`, made if need be, and says so on standard error, also which PDFs are not there and why. 0, or 2 after
/// telling what went wrong.
int write_files(const std::filesystem::path& dir, const OutFiles& out);

}  // namespace boardring::cli
