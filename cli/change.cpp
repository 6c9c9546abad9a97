#include "spoken/change.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <system_error>

#include "commands.hpp"
#include "files.hpp"
#include "next_line.hpp"
#include "project_input.hpp"
#include "report/command_text.hpp"
#include "report/finding_lines.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring::cli {
namespace {

constexpr std::size_t kLineColumns = 78;

void print_lines(const Lines& lines) {
    fmt::print("{}", text_of(lines));
}

Lines told(std::string_view label, std::string_view text) {
    return labelled(label, text, kVerdictColumns);
}

void print_back(const std::string& project_name, const std::vector<std::string>& back) {
    if (back.empty()) return;
    const Lines lines = change_command(clean_text(project_name, 60), back, kTextColumns - kVerdictColumns);
    for (std::size_t i = 0; i < lines.size(); ++i) fmt::print("{}{}\n", padded(i == 0 ? "BACK" : "", kVerdictColumns), lines[i]);
}

// A line of the file as far as it fits, from shortly before the place where the two differ.
std::string shown_line(const std::string& line, const std::string& other) {
    const std::string text = clean_line(line.substr(std::min(line.find_first_not_of(" \t"), line.size())));
    if (columns_of(text) <= kLineColumns) return text;
    const std::string beside = clean_line(other.substr(std::min(other.find_first_not_of(" \t"), other.size())));
    const auto differs = std::mismatch(text.begin(), text.end(), beside.begin(), beside.end()).first;
    const auto at = static_cast<std::size_t>(differs - text.begin());
    std::size_t from = at > kLineColumns / 2 ? text.rfind(' ', at - kLineColumns / 4) : 0;
    if (from == std::string::npos) from = 0;
    return clean_text((from > 0 ? "..." : "") + text.substr(from), kLineColumns);
}

void print_changed(const LinesChanged& changed) {
    if (changed.before.empty() && changed.after.empty()) {
        print_lines(told("", "The file says so already."));
        return;
    }
    const std::string nothing;
    for (std::size_t i = 0; i < std::max(changed.before.size(), changed.after.size()); ++i) {
        const std::string& before = i < changed.before.size() ? changed.before[i] : nothing;
        const std::string& after = i < changed.after.size() ? changed.after[i] : nothing;
        const std::string line = padded(fmt::format("{:>4}", changed.line + i), 6);
        if (i < changed.before.size()) fmt::print("  was{}{}\n", line, shown_line(before, after));
        if (i < changed.after.size()) fmt::print("  now{}{}\n", line, shown_line(after, before));
    }
}

int print_refusal(const Findings& findings, const std::string& file_name) {
    fmt::print(stderr, "NOTHING WAS CHANGED.\n\n{}\n", findings_text(findings, {"", file_name, false}));
    print_next(stderr, "boardring change --help", "what can be said");
    return 1;
}

}  // namespace

void print_outcome(const std::string& path) {
    const Planned planned = plan_project(path);
    const std::string name = shell_word(clean_text(planned.project_name, 60));
    if (planned.exit_code == 0 && planned.plan.complete()) {
        print_lines(closing_lines(planned.plan));
        print_lines(told("NEXT", "boardring plan " + name));
        return;
    }
    const Findings& findings = planned.plan.findings;
    const auto error = std::find_if(findings.begin(), findings.end(), [](const Finding& f) { return f.severity == Severity::error; });
    if (error != findings.end()) print_lines(told("STILL WRONG.", sentence(clean_text(error->message, 300))));
    print_lines(told("NEXT", "boardring check " + name));
}

int run_change(const Arguments& arguments) {
    const FoundProject found = find_project(arguments.file);
    if (found.path.empty()) {
        fmt::print(stderr, "{}\n", found.trouble);
        print_next(stderr, found.next);
        return 2;
    }
    const FileText file = read_text(found.path);
    if (!file.text) {
        fmt::print(stderr, "{}\n", file.trouble);
        print_next(stderr, "boardring", "the projects of this folder");
        return 2;
    }
    const bool from_input = found.path == "-";
    const std::string project_name = from_input ? "-" : std::filesystem::path(found.path).replace_extension().string();
    const ChangedProject changed = change_project(*file.text, arguments.changes, files_beside(from_input ? "" : found.path));
    if (!changed.ok()) return print_refusal(changed.findings, from_input ? "standard input" : found.path);
    if (from_input) {
        fmt::print("{}", changed.text);
        return 0;
    }
    const bool same = changed.text == *file.text;
    std::string kept;
    if (!same) {
        if (const std::string trouble = why_not_replaced(found.path); !trouble.empty()) {
            fmt::print(stderr, "{}; nothing was changed\n", trouble);
            return 2;
        }
        const NewFile old = keep_beside(found.path, *file.text);
        if (!old.trouble.empty()) {
            fmt::print(stderr, "{}; nothing was changed\n", old.trouble);
            return 2;
        }
        kept = old.path;
        if (const std::string trouble = write_text(found.path, changed.text); !trouble.empty()) {
            std::error_code ignored;
            std::filesystem::remove(kept, ignored);
            fmt::print(stderr, "{}; nothing was changed\n", trouble);
            return 2;
        }
    }
    print_lines(told(same ? "UNCHANGED" : "CHANGED", clean_text(found.path, 80)));
    for (const LinesChanged& lines : changed.lines) print_changed(lines);
    fmt::print("\n");
    if (!same) {
        print_lines(told("KEPT", "the old one, as " + clean_text(kept, 80)));
        print_back(project_name, changed.back);
    }
    print_outcome(found.path);
    return 0;
}

}  // namespace boardring::cli
