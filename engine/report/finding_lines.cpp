#include "report/finding_lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <string_view>

#include "report/command_text.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostTold = 20;
constexpr std::size_t kTailGap = 3;
constexpr std::size_t kMostIndent = 12;
constexpr std::size_t kNumberColumns = 3;

const char* severity_word(Severity severity) {
    switch (severity) {
        case Severity::error:
            return "ERROR";
        case Severity::warning:
            return "WARNING";
        case Severity::caution:
            return "CAUTION";
        case Severity::note:
            return "NOTE";
    }
    return "";
}

std::string where(const Finding& finding, const std::string& file_name) {
    const std::string file = clean_text(file_name, 60);
    if (finding.line > 0) return fmt::format("({}{}line {})", file, file.empty() ? "" : " ", finding.line);
    if (!finding.pointer.empty() && !file.empty()) return fmt::format("({}, {})", file, clean_text(finding.pointer, 60));
    return file.empty() ? std::string() : fmt::format("({})", file);
}

// Messages may be several lines; each is cleaned and broken on its own, and keeps how far it stands in.
Lines text_lines(std::string_view text, std::size_t columns) {
    Lines lines;
    for (std::size_t at = 0; at <= text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        const std::string_view line = text.substr(at, end - at);
        const std::size_t first = line.find_first_not_of(' ');
        const std::size_t indent = first == std::string_view::npos ? 0 : std::min(first, kMostIndent);
        const Lines broken = wrapped(clean_line(line.substr(indent)), columns - indent);
        for (const std::string& part : broken) lines.push_back(part.empty() ? part : std::string(indent, ' ') + part);
        at = end + 1;
    }
    while (!lines.empty() && lines.back().empty()) lines.pop_back();
    return lines;
}

// A message that ends in a line set in, a list of figures, takes no full stop.
std::string told(const std::string& message) {
    const std::size_t line_end = message.rfind('\n');
    const bool ends_in_list = line_end != std::string::npos && line_end + 1 < message.size() && message[line_end + 1] == ' ';
    return ends_in_list ? capital(message) : sentence(message);
}

Lines lines_of(const Finding& finding, const PageOptions& options, std::string_view label, std::size_t label_columns) {
    const std::size_t columns = kTextColumns - label_columns;
    Lines lines = text_lines(told(finding.message), columns);
    if (!finding.fix.empty()) append_lines(lines, text_lines(sentence(finding.fix), columns));
    const bool mends = !finding.changes.empty() && !options.project_name.empty();
    if (mends) append_lines(lines, change_command(clean_text(options.project_name, 60), finding.changes, columns));
    const std::string tail = place_and_code(finding, options.file_name);
    if (!lines.empty() && !mends && columns_of(lines.back()) + kTailGap + columns_of(tail) <= columns) {
        lines.back() += std::string(kTailGap, ' ') + tail;
    } else {
        append_lines(lines, wrapped(tail, columns));
    }
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (!lines[i].empty()) lines[i] = padded(i == 0 ? label : "", label_columns) + lines[i];
    }
    return lines;
}

// The first mend that is certain; else look again once it is put right.
Lines next_after(const Findings& errors, const PageOptions& options) {
    const std::string name = clean_text(options.project_name, 60);
    const auto mend = std::find_if(errors.begin(), errors.end(), [](const Finding& f) { return !f.changes.empty(); });
    if (mend == errors.end() || name.empty())
        return next_line(fmt::format("boardring check {}", shell_word(name)), fmt::format("when {} put right", errors.size() == 1 ? "it is" : "these are"));
    Lines lines = change_command(name, mend->changes, kTextColumns - kLabelColumns);
    for (std::size_t i = 0; i < lines.size(); ++i) lines[i] = padded(i == 0 ? "NEXT" : "", kLabelColumns) + lines[i];
    return lines;
}

// The sides or the angles do not come round, so the ring stays open; every other error is about something else.
bool is_about_closing(const Finding& finding) {
    constexpr std::array<std::string_view, 4> kAboutClosing{"outline.angle-sum", "outline.misclosure", "outline.out-of-reach",
                                                            "outline.unknown-misfit"};
    return finding.severity == Severity::error &&
           std::find(kAboutClosing.begin(), kAboutClosing.end(), finding.code) != kAboutClosing.end();
}

}  // namespace

std::string place_and_code(const Finding& finding, const std::string& file_name) {
    const std::string place = where(finding, file_name);
    const std::string more = fmt::format("more: boardring explain {}", clean_text(finding.code, 60));
    return place.empty() ? more : fmt::format("{}   {}", place, more);
}

std::string findings_text(const Findings& findings, const PageOptions& options) {
    Lines lines;
    const std::size_t told = std::min(findings.size(), kMostTold);
    for (std::size_t i = 0; i < told; ++i)
        append_lines(lines, lines_of(findings[i], options, severity_word(findings[i].severity), kLabelColumns));
    if (told < findings.size()) lines.push_back(fmt::format("{}and {} more.", padded("", kLabelColumns), findings.size() - told));
    return text_of(lines);
}

std::string refusal_page(const Findings& findings, const PageOptions& options) {
    Findings errors, rest;
    for (const Finding& finding : findings) (finding.severity == Severity::error ? errors : rest).push_back(finding);
    const bool open = std::any_of(errors.begin(), errors.end(), is_about_closing);
    Lines lines{open ? "DOES NOT CLOSE. Nothing has been worked out yet; please do not buy or cut."
                     : "CANNOT BE PLANNED YET. Nothing has been worked out yet; please do not buy or cut."};
    const std::size_t told = std::min(errors.size(), kMostTold);
    for (std::size_t i = 0; i < told; ++i) {
        lines.emplace_back();
        const bool alone = errors.size() == 1;
        append_lines(lines,
                     lines_of(errors[i], options, alone ? "" : std::to_string(i + 1), alone ? 0 : kNumberColumns));
    }
    if (told < errors.size())
        append_lines(lines, {"", fmt::format("{}and {} more.", padded("", kNumberColumns), errors.size() - told)});
    lines.emplace_back();
    append_lines(lines, next_after(errors, options));
    std::string page = text_of(lines);
    if (!rest.empty()) {
        page += '\n';
        page += findings_text(rest, options);
    }
    return page;
}

}  // namespace boardring
