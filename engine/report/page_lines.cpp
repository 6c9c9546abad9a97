#include "report/page_lines.hpp"

#include <fmt/format.h>

#include <utility>

#include "report/wording.hpp"

namespace boardring {

Lines labelled(std::string_view label, std::string_view text, std::size_t label_columns) {
    Lines lines = wrapped(text, kTextColumns - label_columns);
    for (std::size_t i = 0; i < lines.size(); ++i) lines[i] = padded(i == 0 ? label : "", label_columns) + lines[i];
    return lines;
}

void append_lines(Lines& to, Lines more) {
    for (std::string& line : more) to.push_back(std::move(line));
}

Lines next_line(std::string_view command, std::string_view what_for) {
    if (!what_for.empty()) {
        Lines lines = labelled("NEXT", fmt::format("{}   ({})", command, what_for));
        if (lines.size() == 1) return lines;
    }
    return labelled("NEXT", command);
}

std::string text_of(const Lines& lines) {
    std::string text;
    for (const std::string& line : lines) {
        text += line;
        text += '\n';
    }
    return text;
}

}  // namespace boardring
