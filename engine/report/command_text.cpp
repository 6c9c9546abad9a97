#include "report/command_text.hpp"

#include <algorithm>

#include "report/wording.hpp"

namespace boardring {
namespace {

bool is_plain(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
           std::string_view("_./+-,:@%").find(c) != std::string_view::npos || static_cast<unsigned char>(c) >= 0x80;
}

}  // namespace

std::string shell_word(std::string_view word) {
    if (!word.empty() && std::all_of(word.begin(), word.end(), is_plain)) return std::string(word);
    if (word.find_first_of("\"$`\\!") == std::string_view::npos) return '"' + std::string(word) + '"';
    std::string text = "'";
    for (const char c : word) text += c == '\'' ? "'\\''" : std::string(1, c);
    return text + '\'';
}

std::vector<std::string> change_command(std::string_view project_name, const std::vector<std::string>& changes, std::size_t columns) {
    std::vector<std::string> lines{"boardring change " + shell_word(project_name)};
    for (const std::string& change : changes) {
        const std::string word = shell_word(change);
        if (columns_of(lines.back()) + 3 + columns_of(word) <= columns) {
            lines.back() += " " + word;
        } else {
            lines.back() += " \\";
            lines.push_back("  " + word);
        }
    }
    return lines;
}

}  // namespace boardring
