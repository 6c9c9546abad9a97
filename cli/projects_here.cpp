#include "projects_here.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "files.hpp"
#include "io/located_json.hpp"
#include "report/command_text.hpp"
#include "report/page_lines.hpp"
#include "report/wording.hpp"

namespace boardring::cli {
namespace {

constexpr std::size_t kMostFiles = 1000;
constexpr std::size_t kMostListed = 12;

}  // namespace

std::vector<ProjectHere> projects_here() {
    namespace fs = std::filesystem;
    std::error_code ignored;
    std::vector<ProjectHere> found;
    std::size_t looked_at = 0;
    for (fs::directory_iterator it(".", ignored), end; !ignored && it != end && looked_at < kMostFiles; it.increment(ignored)) {
        if (it->path().extension() != ".json" || is_kept_name(it->path()) || !it->is_regular_file(ignored)) continue;
        ++looked_at;
        const FileText file = read_text(it->path().string());
        if (!file.text || file.text->find("\"boardring-project-1\"") == std::string::npos) continue;
        const LocatedJson json = read_located_json(*file.text);
        const JsonValue* title = json.root ? json.root->member("title") : nullptr;
        found.push_back({it->path().stem().string(), title != nullptr ? title->text : ""});
    }
    std::sort(found.begin(), found.end(), [](const ProjectHere& a, const ProjectHere& b) { return a.name < b.name; });
    return found;
}

std::string how_to_start() {
    const std::vector<ProjectHere> here = projects_here();
    std::string text = "boardring plans rings of boards before you buy wood. Nine questions:  boardring new\n";
    text += "Or say what you want:  boardring plan hexagon 640 inside flats, 145x38 on edge\n";
    text += "One joint by hand:     boardring joint --corner 108 --boards 90,45      all: boardring --help\n";
    std::size_t columns = 0;
    for (const ProjectHere& project : here) columns = std::max(columns, columns_of(clean_text(project.name, 40)));
    for (std::size_t i = 0; i < std::min(here.size(), kMostListed); ++i) {
        text += fmt::format("{}{}\n", padded(i == 0 ? "HERE" : "", kLabelColumns),
                            clean_text(here[i].title, 48).empty()
                                ? clean_text(here[i].name, 40)
                                : padded(clean_text(here[i].name, 40), columns + 3) + clean_text(here[i].title, 48));
    }
    if (here.size() > kMostListed) text += fmt::format("{}and {} more\n", padded("", kLabelColumns), here.size() - kMostListed);
    text += fmt::format("{}boardring {}\n", padded("NEXT", kLabelColumns), here.empty() ? "new" : "plan " + shell_word(clean_text(here.front().name, 60)));
    return text;
}

}  // namespace boardring::cli
