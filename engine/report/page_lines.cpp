#include "report/page_lines.hpp"

#include <fmt/format.h>

#include <utility>

#include "report/wording.hpp"

namespace boardring {
namespace {

// What was piped is gone: a command that names standard input, "-", wants it again. What stands in quotes may be a name with a dash in it.
bool reads_input(std::string_view command) {
    const std::string_view bare = command.substr(0, command.find_first_of("\"'"));
    return bare.ends_with(" -") || bare.find(" - ") != std::string_view::npos;
}

}  // namespace

Lines labelled(std::string_view label, std::string_view text, std::size_t label_columns) {
    Lines lines = wrapped(text, kTextColumns - label_columns);
    for (std::size_t i = 0; i < lines.size(); ++i) lines[i] = padded(i == 0 ? label : "", label_columns) + lines[i];
    return lines;
}

void append_lines(Lines& to, Lines more) {
    for (std::string& line : more) to.push_back(std::move(line));
}

Lines next_line(std::string_view command, std::string_view what_for) {
    std::vector<std::string> notes{std::string(what_for)};
    if (reads_input(command)) {
        const std::string again = "pipe the project in again";
        notes = {what_for.empty() ? again : fmt::format("{}; {}", what_for, again), again};
    }
    for (const std::string& note : notes) {
        Lines lines = labelled("NEXT", note.empty() ? std::string(command) : fmt::format("{}   ({})", command, note));
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
