#include <algorithm>
#include <string>
#include <string_view>

#include <fmt/format.h>

#include "base/inch_units.hpp"
#include "spoken/draft.hpp"

// What a project is called where nobody gave it a name.

namespace boardring {
namespace {

// Letters, digits and points of a text, everything else a hyphen.
std::string slug(std::string_view text) {
    std::string name;
    for (const char c : text) {
        const bool kept = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || (c == '.' && !name.empty());
        const bool upper = c >= 'A' && c <= 'Z';
        if (kept || upper) {
            name.push_back(upper ? static_cast<char>(c - 'A' + 'a') : c);
        } else if (!name.empty() && name.back() != '-' && c != '"' && c != '\\') {
            name.push_back('-');
        }
    }
    constexpr std::size_t kMostName = 60;
    name.resize(std::min(name.size(), kMostName));
    while (!name.empty() && (name.back() == '-' || name.back() == '.')) name.pop_back();
    return name;
}

// The size as it stands in a title and in a file's name.
std::string size_words(const Draft& draft, std::string_view by, bool for_title) {
    const bool inches = in_inches(draft.unit);
    const auto plain = [&](const SaidLength& length) {
        if (inches && for_title) return show_length(length.mm, {draft.unit, 25.4 / 64.0});
        return show_number(length.mm / unit_in_mm(draft.unit), 3);
    };
    if (draft.first && draft.second && draft.shape_word != "square") return fmt::format("{}{}{}", plain(*draft.first), by, plain(*draft.second));
    for (const std::optional<SaidLength>* size : {&draft.size, &draft.radius, &draft.wide, &draft.first}) {
        if (*size) return plain(**size);
    }
    return "";
}

}  // namespace

std::string project_title(const Draft& draft) {
    if (!draft.title.empty()) return draft.title;
    std::string title = draft.shape_word;
    if (!draft.thing.empty()) title += (title.empty() ? "" : " ") + draft.thing;
    if (title.front() >= 'a' && title.front() <= 'z') title.front() = static_cast<char>(title.front() - 'a' + 'A');
    const std::string size = size_words(draft, " x ", true);
    return size.empty() ? title : fmt::format("{} {}", title, size);
}

std::string project_name(const Draft& draft) {
    const std::string size = size_words(draft, "x", false);
    const std::string name = slug(draft.title.empty() ? fmt::format("{} {}", draft.shape_word, size) : draft.title);
    return name.empty() ? "frame" : name;
}

}  // namespace boardring
