#include "next_line.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdlib>

#include "report/page_lines.hpp"
#include "report/wording.hpp"

namespace boardring::cli {
namespace {

constexpr std::string_view kBold = "\x1b[1m", kGreen = "\x1b[1;32m", kYellow = "\x1b[1;33m", kRed = "\x1b[1;31m", kPlain = "\x1b[0m";

struct Verdict {
    std::string_view starts;
    std::string_view colour;
};
constexpr std::array<Verdict, 11> kVerdicts{{{"CLOSES.", kGreen},
                                             {"CAN BE SAWN.", kGreen},
                                             {"DOES NOT CLOSE.", kRed},
                                             {"CANNOT BE PLANNED YET.", kRed},
                                             {"STILL WRONG.", kRed},
                                             {"ERROR", kRed},
                                             {"SAW STOPS.", kYellow},
                                             {"WARNING", kYellow},
                                             {"DECIDE", kYellow},
                                             {"CAUTION", kYellow},
                                             {"TAKE CARE", kYellow}}};

bool wants_colour() {
    if (isatty(STDOUT_FILENO) == 0) return false;
    const char* const no_color = std::getenv("NO_COLOR");
    const char* const terminal = std::getenv("TERM");
    return (no_color == nullptr || *no_color == '\0') && terminal != nullptr && std::string_view(terminal) != "dumb";
}

// Capitals at the start of a line, up to a full stop or a wide gap: BOARDS, LAST JOINT, NEXT.
std::size_t label_length(std::string_view line) {
    std::size_t end = 0;
    while (end < line.size() && ((line[end] >= 'A' && line[end] <= 'Z') || line[end] == ' ')) ++end;
    const std::size_t gap = line.substr(0, end).find("  ");
    if (gap != std::string_view::npos) return gap;
    return end > 1 && (end == line.size() || line[end] == ' ') ? end : 0;
}

std::string coloured(std::string_view line) {
    for (const Verdict& verdict : kVerdicts) {
        if (!line.starts_with(verdict.starts)) continue;
        return fmt::format("{}{}{}{}", verdict.colour, verdict.starts, kPlain, line.substr(verdict.starts.size()));
    }
    const std::size_t label = label_length(line);
    return label < 2 ? std::string(line) : fmt::format("{}{}{}{}", kBold, line.substr(0, label), kPlain, line.substr(label));
}

}  // namespace

void print_next(std::FILE* to, std::string_view command, std::string_view what_for) {
    fmt::print(to, "{}", text_of(next_line(clean_line(command), what_for)));  // it may hold the name of a file
}

void print_page(std::string_view page) {
    if (!wants_colour()) {
        fmt::print("{}", page);
        return;
    }
    while (!page.empty()) {
        const std::size_t end = std::min(page.find('\n'), page.size());
        fmt::print("{}\n", coloured(page.substr(0, end)));
        page.remove_prefix(std::min(end + 1, page.size()));
    }
}

}  // namespace boardring::cli
