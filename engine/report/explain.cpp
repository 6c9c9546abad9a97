#include "report/explain.hpp"

#include <algorithm>

#include "report/findings_text.hpp"

namespace boardring {
namespace {

// An entry starts at a line "## code" with a dot in the code and runs to the next line that starts with "## " or "# ".
constexpr std::string_view kHead = "\n## ";

struct Entry {
    std::string_view code;
    std::string_view body;
};

std::vector<Entry> entries() {
    const std::string_view text = kFindingsText;
    std::vector<Entry> found;
    for (std::size_t at = text.find(kHead); at != std::string_view::npos;) {
        const std::size_t next = text.find(kHead, at + 1);
        const std::size_t chapter = text.find("\n# ", at + 1);
        const std::size_t end = std::min(next, chapter);
        std::string_view entry = text.substr(at + kHead.size(), end == std::string_view::npos ? end : end - at - kHead.size());
        const std::size_t line_end = entry.find('\n');
        const std::string_view code = entry.substr(0, line_end);
        if (code.find('.') != std::string_view::npos && code.find(' ') == std::string_view::npos) {
            found.push_back({code, line_end == std::string_view::npos ? "" : entry.substr(line_end + 1)});
        }
        at = next;
    }
    return found;
}

// What Markdown marks for a browser is noise on a terminal.
std::string plain(std::string_view markdown) {
    std::string text;
    for (std::size_t i = 0; i < markdown.size(); ++i) {
        if (markdown[i] == '`') continue;
        if (markdown.substr(i, 2) == "**") {
            ++i;
            continue;
        }
        text += markdown[i];
    }
    while (!text.empty() && text.back() == '\n') text.pop_back();
    const std::size_t start = text.find_first_not_of('\n');
    return start == std::string::npos ? std::string() : text.substr(start);
}

}  // namespace

std::optional<std::string> explain(std::string_view code) {
    const Entry* by_tail = nullptr;
    const std::vector<Entry> all = entries();
    for (const Entry& entry : all) {
        if (entry.code == code) return std::string(entry.code) + "\n\n" + plain(entry.body) + "\n";
        if (entry.code.substr(entry.code.find('.') + 1) == code) {
            if (by_tail != nullptr) return std::nullopt;  // two areas use this last part: the whole code is needed
            by_tail = &entry;
        }
    }
    if (by_tail == nullptr) return std::nullopt;
    return std::string(by_tail->code) + "\n\n" + plain(by_tail->body) + "\n";
}

std::vector<std::string_view> finding_codes() {
    std::vector<std::string_view> codes;
    for (const Entry& entry : entries()) codes.push_back(entry.code);
    return codes;
}

}  // namespace boardring
