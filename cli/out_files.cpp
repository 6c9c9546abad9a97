#include "out_files.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cstdio>
#include <system_error>

#include "drawing/dxf.hpp"
#include "drawing/svg.hpp"
#include "files.hpp"
#include "io/write_wood_left.hpp"
#include "report/buying_text.hpp"
#include "report/full_size.hpp"
#include "report/paper_sheets.hpp"
#include "report/papers.hpp"
#include "report/papers_html.hpp"
#include "report/plan_drawing.hpp"
#include "report/sawing_drawing.hpp"
#include "report/shopping_list.hpp"
#include "report/wording.hpp"

namespace boardring::cli {

namespace {

std::string listed(const std::vector<std::string>& names) {
    return fmt::format("{}", fmt::join(names, ", "));
}

Sheet sheet_of(const Project& project) {
    return in_inches(project) ? kLetter : kA4;
}

}  // namespace

void OutFiles::add_pdf(const char* name, const Pdf& pdf) {
    if (!pdf.bytes.empty()) add(name, pdf.bytes);
    if (pdf.trouble.empty()) return;
    missing.emplace_back(name);
    why_missing = pdf.trouble;
}

void add_buying_files(OutFiles& out, const Buying& buying, const std::vector<const Project*>& projects) {
    if (!buying.has_offers()) return;
    out.add("buying.txt", buying_page(buying, projects));
    out.add("buying.csv", buying_csv(buying, projects));
    out.add("wood-left.json", write_wood_left(buying, projects));
    std::vector<Drawing> pages;
    for (const SawnBoards& boards : sawn_boards(buying)) {
        pages.push_back(draw_sawing(boards, projects));
        out.add(fmt::format("long-board-{}.svg", boards.numbers.front() + 1), write_svg(pages.back()));
    }
    const Project& project = *projects.front();
    if (!pages.empty()) out.add_pdf("sawing-order.pdf", make_pdf(pages, sheet_of(project), project.title));
}

void add_papers(OutFiles& out, const Plan& plan, const PageOptions& options) {
    const Sheet sheet = sheet_of(plan.project);
    out.add("papers.html", papers_html(plan, options));
    out.add("plan.dxf", write_dxf(draw_plan(plan)));
    out.add_pdf("papers.pdf", make_pdf(paper_sheets(papers_of(plan, options), papers_heading(plan)), sheet, plan.project.title));
    out.add_pdf("full-size.pdf", make_pdf(draw_full_size(plan), sheet, plan.project.title));
}

std::string folder_named(const std::string& asked, const std::string& project_name) {
    if (!asked.empty()) return asked;
    return project_name == "-" ? "plan" : project_name;
}

int write_files(const std::filesystem::path& dir, const OutFiles& out) {
    std::error_code trouble;
    std::filesystem::create_directories(dir, trouble);
    if (trouble || !std::filesystem::is_directory(dir)) {
        fmt::print(stderr, "cannot make the folder {}: {}\n", clean_line(dir.string()), trouble ? trouble.message() : "a file of that name is there");
        return 2;
    }
    if (const std::string wrong = write_all(dir, out.files); !wrong.empty()) {
        fmt::print(stderr, "{}\n", wrong);
        return 2;
    }
    std::vector<std::string> names;
    for (const auto& [name, text] : out.files) names.push_back(name);
    fmt::print(stderr, "wrote into {}: {}\n", clean_line(dir.string()), listed(names));
    if (!out.missing.empty()) fmt::print(stderr, "not written: {}; {}\n", listed(out.missing), out.why_missing);
    return 0;
}

}  // namespace boardring::cli
