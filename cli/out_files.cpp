#include "out_files.hpp"

#include <fmt/format.h>

#include <cstdio>
#include <system_error>

#include "drawing/svg.hpp"
#include "files.hpp"
#include "io/write_wood_left.hpp"
#include "report/buying_text.hpp"
#include "report/sawing_drawing.hpp"
#include "report/shopping_list.hpp"
#include "report/wording.hpp"

namespace boardring::cli {

void add_pdf(std::vector<NamedText>& files, const char* name, const Pdf& pdf) {
    if (!pdf.trouble.empty()) fmt::print(stderr, "{}: {}\n", name, pdf.trouble);
    if (!pdf.bytes.empty()) files.emplace_back(name, pdf.bytes);
}

std::vector<NamedText> buying_files(const Buying& buying, const std::vector<const Project*>& projects) {
    if (!buying.has_offers()) return {};
    std::vector<NamedText> files{{"buying.txt", buying_page(buying, projects)}, {"buying.csv", buying_csv(buying, projects)},
                                 {"wood-left.json", write_wood_left(buying, projects)}};
    std::vector<Drawing> pages;
    for (const SawnBoards& boards : sawn_boards(buying)) {
        pages.push_back(draw_sawing(boards, projects));
        files.emplace_back(fmt::format("long-board-{}.svg", boards.numbers.front() + 1), write_svg(pages.back()));
    }
    if (pages.empty()) return files;
    const Project& project = *projects.front();
    add_pdf(files, "sawing-order.pdf", make_pdf(pages, in_inches(project) ? kLetter : kA4, project.title));
    return files;
}

int write_files(const std::filesystem::path& dir, const std::vector<NamedText>& files) {
    std::error_code trouble;
    std::filesystem::create_directories(dir, trouble);
    if (trouble || !std::filesystem::is_directory(dir)) {
        fmt::print(stderr, "cannot make the folder {}: {}\n", dir.string(), trouble ? trouble.message() : "a file of that name is there");
        return 2;
    }
    for (const auto& [name, text] : files) {
        if (const std::string wrong = write_text(dir / name, text); !wrong.empty()) {
            fmt::print(stderr, "{}\n", wrong);
            return 2;
        }
    }
    std::string names;
    for (const auto& [name, text] : files) names += (names.empty() ? "" : ", ") + name;
    fmt::print(stderr, "wrote into {}: {}\n", dir.string(), names);
    return 0;
}

}  // namespace boardring::cli
