#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "report/assumed_phrase.hpp"
#include "report/command_text.hpp"
#include "report/finding_lines.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

struct Told {
    Lines lines;
    std::size_t left_out = 0;
};

constexpr std::string_view kBookFirst = "Your saw's own book comes first.";

std::string both_sentences(const Finding& finding) {
    std::string fix = sentence(clean_text(finding.fix, 600));
    // The general caution under it says so once for all.
    if (finding.severity == Severity::caution && fix.ends_with(kBookFirst)) fix.resize(fix.find_last_not_of(' ', fix.size() - kBookFirst.size() - 1) + 1);
    return fmt::format("{}{}{}", sentence(clean_text(finding.message, 600)), fix.empty() ? "" : " ", fix);
}

// The command that mends a finding, as lines under it; none where the mend would be a guess or the project has no name to type.
Lines mend_lines(const Finding& finding, const PageOptions& options) {
    if (finding.changes.empty() || options.project_name.empty() || options.project_name == "-") return {};
    Lines lines = change_command(clean_text(options.project_name, 60), finding.changes, kTextColumns - kLabelColumns);
    for (std::string& line : lines) line = padded("", kLabelColumns) + line;
    return lines;
}

// Findings of one severity behind a label, as many as fit into `most` lines. With any room at all the first is told whatever it
// takes, without its fix if need be; the command that mends it always is.
Told tell(const Plan& plan, const PageOptions& options, Severity severity, const char* label, std::size_t most) {
    Told told;
    for (const Finding& finding : plan.findings) {
        if (finding.severity != severity || is_told_by_verdict(finding)) continue;
        const std::string code = fmt::format("({})", clean_text(finding.code, 40));
        const bool first = told.lines.empty();
        const Lines mend = mend_lines(finding, options);
        Lines lines = labelled(first ? label : "", fmt::format("{} {}", both_sentences(finding), code));
        if (first && lines.size() + mend.size() > most)
            lines = labelled(label, fmt::format("{} {}", sentence(clean_text(finding.message, 600)), code));
        append_lines(lines, mend);
        if (most == 0 || (!first && told.lines.size() + lines.size() > most)) {
            ++told.left_out;
            continue;
        }
        append_lines(told.lines, lines);
    }
    return told;
}

// What spoils wood when the assumption is wrong comes first.
std::size_t weight_of(const Assumption& assumption) {
    constexpr std::array<std::string_view, 12> kFirst{
        "/tools/scale_at_square", "/tools/kerf",      "/tools/tilt_limit", "/tools/swing_limit",
        "/outline/basis",         "/joints/all/kind", "/wanted/gap",       "/tools/saw_step",
        "/tools/rule_step",       "/end_trim",        "/surface",          "/square"};
    for (std::size_t i = 0; i < kFirst.size(); ++i) {
        const std::string& pointer = assumption.pointer;
        if (pointer.size() >= kFirst[i].size() &&
            std::string_view(pointer).substr(pointer.size() - kFirst[i].size()) == kFirst[i])
            return i;
    }
    return kFirst.size();
}

// How the first of these is changed: the command, or the file where no short words say it or nothing has a name.
std::string change_words(const std::vector<const Assumption*>& assumed, const Project& project, const PageOptions& options) {
    const std::string name = clean_text(options.project_name, 60);
    if (name.empty() || name == "-") return "Change: edit the file.";
    for (const Assumption* assumption : assumed) {
        const std::string phrase = phrase_about(*assumption, project);
        if (!phrase.empty()) return fmt::format("Change: boardring change {} {}", shell_word(name), shell_word(phrase));
    }
    return "Change: boardring change --help";
}

// A command that is broken in two cannot be pasted: where it does not fit behind the text it takes a line of its own.
Lines with_command(const std::string& text, const std::string& command) {
    Lines lines = labelled("I ASSUMED", text);
    if (columns_of(lines.back()) + 1 + columns_of(command) <= kTextColumns) {
        lines.back() += " " + command;
    } else {
        lines.push_back(padded("", kLabelColumns) + command);
    }
    return lines;
}

std::string more_words(std::size_t left_out, const PageOptions& options) {
    return fmt::format("and {} more: boardring check {}", left_out, clean_text(options.project_name, 40));
}

}  // namespace

bool is_told_by_verdict(const Finding& finding) {
    return finding.code == "cut.near-limit";
}

Lines decide_lines(const Plan& plan, const PageOptions& options, std::size_t most) {
    Told told = tell(plan, options, Severity::warning, "DECIDE", most);
    if (told.left_out == 0) return told.lines;
    if (!told.lines.empty()) {
        append_lines(told.lines, labelled("", more_words(told.left_out, options)));
        return told.lines;
    }
    return labelled("DECIDE", fmt::format("{}, before you buy: boardring check {}", counted(told.left_out, "point", "points"),
                                          clean_text(options.project_name, 40)));
}

Lines care_lines(const Plan& plan, const PageOptions& options, std::size_t most) {
    Told told = tell(plan, options, Severity::caution, "TAKE CARE", most > 0 ? most - 1 : 0);
    const std::string clear = plan.project.unit == Unit::inch   ? "12 in"
                              : plan.project.unit == Unit::foot ? "1 ft"
                                                                : show_length_unit(300.0, plan.project.style());
    std::string general = fmt::format("Clamp; keep hands {} clear of the blade. {}", clear, kBookFirst);
    if (told.left_out > 0)
        general = fmt::format("{} And {} more: boardring check {}", general, told.left_out, clean_text(options.project_name, 40));
    append_lines(told.lines, labelled(told.lines.empty() ? "TAKE CARE" : "", general));
    return told.lines;
}

Lines assumed_lines(const Plan& plan, const PageOptions& options, std::size_t most) {
    if (plan.project.assumed.empty()) return {};
    std::vector<const Assumption*> assumed;
    for (const Assumption& assumption : plan.project.assumed) assumed.push_back(&assumption);
    std::stable_sort(assumed.begin(), assumed.end(),
                     [](const Assumption* a, const Assumption* b) { return weight_of(*a) < weight_of(*b); });
    const std::string command = change_words(assumed, plan.project, options);
    std::string text;
    for (std::size_t i = 0; i < assumed.size(); ++i) {
        const std::size_t rest = assumed.size() - i - 1;
        const std::string upto = fmt::format("{}{}{}", text, i == 0 ? "" : "; ", clean_text(assumed[i]->value, 120));
        const std::string ended = rest == 0 ? upto + "." : fmt::format("{}; {} more with --more.", upto, rest);
        if (i > 0 && with_command(ended, command).size() > most) {
            return with_command(fmt::format("{}; {} more with --more.", text, rest + 1), command);
        }
        text = upto;
    }
    return with_command(text + ".", command);
}

Lines noted_lines(const Plan& plan, const PageOptions& options, std::size_t most) {
    if (most == 0) return {};
    Told told = tell(plan, options, Severity::note, "NOTED", most);
    if (told.left_out > 0)
        append_lines(told.lines, labelled(told.lines.empty() ? "NOTED" : "", more_words(told.left_out, options)));
    return told.lines;
}

Lines next_lines(const PageOptions& options) {
    const std::string name = options.project_name.empty() ? "FILE" : shell_word(clean_text(options.project_name, 60));
    return next_line(fmt::format("boardring {} {}", options.papers_written ? "buy" : "papers", name),
                     options.papers_written ? "how to saw every long board"
                     : options.more         ? "cards to take to the bench"
                                            : "cards to take to the bench; all marks: --more");
}

}  // namespace boardring
