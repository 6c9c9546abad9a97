#include <fmt/format.h>

#include <algorithm>
#include <string>

#include "report/finding_lines.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

struct Told {
    Lines lines;
    std::size_t left_out = 0;
};

bool is_told_elsewhere(const Finding& finding) {
    return finding.code == "cut.near-limit";
}  // the verdict line says it

std::string both_sentences(const Finding& finding) {
    return fmt::format("{}{}{}", sentence(clean_text(finding.message, 600)), finding.fix.empty() ? "" : " ",
                       sentence(clean_text(finding.fix, 600)));
}

// Whole findings of one severity behind a label, as many as fit into `most` lines; the first one always, cut if it must be.
Told tell(const Plan& plan, Severity severity, const char* label, std::size_t most) {
    Told told;
    for (const Finding& finding : plan.findings) {
        if (finding.severity != severity || is_told_elsewhere(finding)) continue;
        const std::string tail = fmt::format("({})", clean_text(finding.code, 40));
        Lines lines = labelled(told.lines.empty() ? label : "", fmt::format("{} {}", both_sentences(finding), tail));
        if (told.lines.empty() && lines.size() > most && most > 0) {
            lines = labelled(label, sentence(clean_text(finding.message, 90 * most - 60)) +
                                        fmt::format(" More: boardring explain {}", clean_text(finding.code, 40)));
        }
        if (told.lines.size() + lines.size() > most) {
            ++told.left_out;
            continue;
        }
        append_lines(told.lines, lines);
    }
    return told;
}

std::string more_words(std::size_t left_out, const PageOptions& options) {
    return fmt::format("and {} more: boardring check {}", left_out, clean_text(options.project_name, 40));
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

Lines decide_lines(const Plan& plan, const PageOptions& options, std::size_t most) {
    Told told = tell(plan, Severity::warning, "DECIDE", most);
    if (told.left_out > 0)
        append_lines(told.lines, labelled(told.lines.empty() ? "DECIDE" : "", more_words(told.left_out, options)));
    return told.lines;
}

Lines care_lines(const Plan& plan, const PageOptions& options, std::size_t most) {
    Told told = tell(plan, Severity::caution, "TAKE CARE", most > 1 ? most - 1 : 0);
    if (told.left_out > 0)
        append_lines(told.lines, labelled(told.lines.empty() ? "TAKE CARE" : "", more_words(told.left_out, options)));
    const std::string clear =
        plan.project.unit == Unit::inch ? "12 in" : shown(plan.project.unit == Unit::foot ? 304.8 : 300.0, plan.project);
    append_lines(told.lines,
                 labelled(told.lines.empty() ? "TAKE CARE" : "",
                          fmt::format("Clamp; keep hands {} clear of the blade. Your saw's own book comes first.", clear)));
    return told.lines;
}

Lines assumed_lines(const Plan& plan, const PageOptions& options, std::size_t most) {
    if (plan.project.assumed.empty()) return {};
    const std::string change =
        fmt::format("Change: edit {}.", clean_text(options.file_name.empty() ? options.project_name : options.file_name, 60));
    std::string text;
    std::size_t taken = 0;
    for (const Assumption& assumption : plan.project.assumed) {
        const std::string next = fmt::format("{}{}{}", text, taken == 0 ? "" : "; ", clean_text(assumption.value, 120));
        if (labelled("I ASSUMED", fmt::format("{}; and {} more in plan.json. {}", next, plan.project.assumed.size(), change))
                    .size() > most &&
            taken > 0)
            break;
        text = next;
        ++taken;
    }
    if (taken < plan.project.assumed.size())
        text += fmt::format("; and {} more in plan.json", plan.project.assumed.size() - taken);
    return labelled("I ASSUMED", fmt::format("{}. {}", text, change));
}

Lines noted_lines(const Plan& plan, const PageOptions& options, std::size_t most) {
    if (most == 0) return {};
    Told told = tell(plan, Severity::note, "NOTED", most);
    if (told.left_out > 0)
        append_lines(told.lines, labelled(told.lines.empty() ? "NOTED" : "", more_words(told.left_out, options)));
    return told.lines;
}

Lines next_lines(const Plan& plan, const PageOptions& options) {
    const std::string name = options.project_name.empty() ? "FILE" : clean_text(options.project_name, 40);
    (void)plan;
    return labelled(
        "NEXT", options.more
                    ? fmt::format("boardring plan {} --out {}-papers   (a drawing of every board for the bench, cut-list.csv)",
                                  name, name)
                    : fmt::format("boardring plan {} --out {}-papers   (a drawing of every board, cut-list.csv); --more here",
                                  name, name));
}

}  // namespace boardring
