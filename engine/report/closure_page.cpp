#include "report/closure_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/names.hpp"
#include "report/closure_words.hpp"
#include "report/openings_drawing.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kLongestBar = 40;

// Bars over the widest opening. The wanted gap has a mark where it falls.
Lines histogram(const Simulation& simulation, const Project& project) {
    const OpeningBins bins = bin_openings(simulation.widest, in_inches(project));
    if (bins.most == 0) return {};
    const std::size_t wanted = bins.bin_of(project.wanted.gap_mm);
    Lines lines;
    for (std::size_t b = 0; b < bins.counts.size(); ++b) {
        const std::size_t bar = (bins.counts[b] * kLongestBar + bins.most / 2) / bins.most;
        const std::string to = bins.is_last(b) ? "over" : fmt::format("{} {}", bins.end_words(b), bins.inches ? "in" : "mm");
        std::string line = fmt::format("{}{:>9} {}{} {}", std::string(kLabelColumns, ' '), to, std::string(bar, '#'), bar > 0 ? "" : "-",
                                       share_words(static_cast<double>(bins.counts[b]) / static_cast<double>(simulation.runs)));
        if (b == wanted && !bins.is_last(b)) line += "   <- what you want";
        lines.push_back(line);
    }
    return lines;
}

// Whether the budget may be trusted, and if not, why.
std::string first_order_words(const LastJointStudy& study, const Project& project) {
    const std::string says = fmt::format("{}, and 95 of 100 under {}.", of_hundred(study.budget.spread.within), small(study.budget.spread.most_mm, project));
    if (study.agrees) return "A sum of small parts says the same: " + says;
    std::string text = fmt::format("A sum of small parts would say {} It is not trusted here: for 95 of 100 it is off by {}", says,
                                   share_words(std::abs(study.first_order_off)));
    if (!study.first_order_off_half) return text + ".";
    const bool falls = std::abs(*study.first_order_off_half) < 0.75 * std::abs(study.first_order_off);
    return text + fmt::format(", with errors half as large by {}. {}", share_words(std::abs(*study.first_order_off_half)),
                              falls ? "Errors this large turn boards so far that the ring changes its shape, and every turn also shortens the way across."
                                    : "So it is not the size of the errors: the steps of rule and saw leave the ring where gaps just open or shut.");
}

Lines drawn_in(const Plan& plan, const LastJointStudy& study) {
    const Project& project = plan.project;
    const Simulation& s = study.simulation;
    Lines lines = labelled(
        "DRAWN IN", fmt::format("{} rings open {} or less at every joint, as you want it. Half of them stay under {}, 95 of 100 under {}. {}",
                                capital(of_hundred(s.within)), small(project.wanted.gap_mm, project), small(s.widest.quantile(0.5), project),
                                small(s.widest.quantile(0.95), project), trials_words(s.runs, "rings", s.seed, s.within_error, s.still)));
    append_lines(lines, histogram(s, project));
    append_lines(lines, labelled("", first_order_words(study, project)));
    return lines;
}

Lines one_by_one(const Plan& plan, const LastJointStudy& study) {
    const Project& project = plan.project;
    const Simulation& s = study.simulation;
    return labelled("ONE BY ONE", fmt::format("glued one after another, all of it shows at {}: half of the rings miss by up to {} there, 95 of 100 by up to {}. "
                                              "That is what board {} has to take up.",
                                              corner_letter(study.budget.corner), small(s.stiff.quantile(0.5), project),
                                              small(s.stiff.quantile(0.95), project), board_number(study.budget.leave_long.board)));
}

std::string named_sd(const Needed& one, const Project& project) { return sd_words(one.source.kind, *one.sd, project); }

Lines helps(const Plan& plan, const LastJointStudy& study) {
    const Project& project = plan.project;
    const Advice& advice = study.advice;
    if (advice.needed.empty()) return {};
    const auto best = std::min_element(advice.needed.begin(), advice.needed.end(), [](const Needed& a, const Needed& b) { return a.most_if_half_mm < b.most_if_half_mm; });
    std::string text = fmt::format("{}: twice as good, 95 of 100 stay under {} instead of {}.", capital(source_words(best->source.kind)),
                                   small(best->most_if_half_mm, project), small(study.budget.spread.most_mm, project));
    Lines lines = labelled("HELPS MOST", text);
    if (!advice.all_times) {
        append_lines(lines, labelled("NEEDED", fmt::format("The steps of rule and saw alone open more than {}; no care in cutting helps. Use finer steps.",
                                                           small(project.wanted.gap_mm, project))));
        return lines;
    }
    if (study.budget.spread.within >= kSure) {
        text = fmt::format("for 95 of 100 you may be {} times as far out in everything.", show_number(std::floor(*advice.all_times * 10.0) / 10.0, 1));
    } else {
        const double closer = 1.0 / *advice.all_times;  // rounded up: what is told must do
        const std::string times = closer < 10.0 ? show_number(std::ceil(closer * 10.0) / 10.0, 1) : fmt::format("{:.0f}", std::ceil(closer));
        text = fmt::format("for 95 of 100 work {} times as closely as assumed, in everything.", times);
        std::vector<std::string> single;
        for (const Needed& one : advice.needed) {
            if (one.sd) single.push_back(fmt::format("{} good to {}", source_words(one.source.kind), named_sd(one, project)));
        }
        text += single.empty() ? " No one thing alone is enough." : fmt::format(" Or one thing alone: {}.", joined(single, "; or "));
    }
    append_lines(lines, labelled("NEEDED", text));
    return lines;
}

Lines ways(const LastJointStudy& study, const Project& project) {
    std::vector<std::string> parts;
    for (const LastJointStudy::Way& way : study.ways)
        parts.push_back(fmt::format("{}: {}, 95 of 100 under {}", way_words(way.way), of_hundred(way.odds.within), small(way.odds.most_mm, project)));
    return labelled("WAYS", joined(parts, "; ") + ".");
}

std::string leave_words(const LeaveLong& leave, const Project& project) {
    return shown(stepped_up_mm(leave.long_mm, project), project);
}

Lines fit_last(const Plan& plan, const LastJointStudy& study) {
    const Project& project = plan.project;
    const LeaveLong& leave = study.advice.leave_long;
    std::string text = fmt::format("board {}, at {}: where the others are glued tight first and it is left {} long, it is too short in fewer than 1 of 100 "
                                   "rings; about {} then comes off.",
                                   board_number(leave.board), corner_letter(leave.corner), leave_words(leave, project),
                                   shown(std::max(0.0, leave.trimmed_mm), project));
    const double too_long_mm = leave.trimmed_mm - leave.long_mm;
    if (too_long_mm > project.tools.rule_step_mm && leave.long_mm > 0.0)
        text += fmt::format(" (On the steps of rule and slopes alone it is {} too long already.)", shown(too_long_mm, project));
    if (leave.told_mm > 0.0)
        text += fmt::format(" Left {} long, as you say, it is too short in {}.", shown(leave.told_mm, project), of_hundred(leave.too_short));
    text += fmt::format(" What no trimming mends is the lip: 95 of 100 stay under {}. Drawn in dry as a ring, none of that is needed.",
                        small(leave.lip_mm, project));
    if (study.advice.better_last) {
        const LeaveLong& other = *study.advice.better_last;
        text += fmt::format(" Board {} would need only {}.", board_number(other.board), leave_words(other, project));
    }
    return labelled("FIT LAST", text);
}

Lines halves(const Plan& plan, const LastJointStudy& study) {
    constexpr std::size_t kLeastBoards = 4;  // fewer have no halves
    if (!study.advice.halves) {
        if (plan.frame->boards.size() < kLeastBoards) return {};
        return labelled("TWO HALVES", "do not help here: no two mitres face each other in one line, so no half can be trued on a straight edge.");
    }
    const Project& project = plan.project;
    const HalvesLeft& left = *study.advice.halves;
    const std::string a = corner_letter(left.first_corner), b = corner_letter(left.second_corner);
    return labelled("TWO HALVES", fmt::format("Glue {} to {} and {} to {}, true both faces of each half on a straight edge (about {} comes off the thick "
                                              "end), and put them together: no gap is left at {} and {}, only a lip of about {} on each side.",
                                              a, b, b, a, small(left.skim_sd_mm, project), a, b, small(left.lip_sd_mm, project)));
}

}  // namespace

std::vector<std::string> budget_table(const Budget& budget, const Project& project) {
    std::vector<SourceRow> rows{{"source", "out by", "times", "drawn in", fmt::format("stiff at {}", corner_letter(budget.corner))}};
    for (const BudgetLine& line : budget.lines) {
        rows.push_back({source_words(line.source.kind), sd_words(line.source.kind, line.source.sd, project), std::to_string(line.source.inputs),
                        share_words(line.spread_share), share_words(line.stiff_share)});
    }
    return sources_table(rows);
}

std::string closure_page(const Plan& plan, const LastJointStudy& study, const PageOptions& options) {
    const Project& project = plan.project;
    const std::string title = clean_text(project.title, 60);
    Lines lines = labelled("LAST JOINT", fmt::format("{}; {}, {}. Lengths in {}.", title.empty() ? capital(shape_in_words(plan)) : title,
                                                     way_words(study.budget.way), preset_words(project.accuracy.preset), unit_words(project.unit)));
    lines.emplace_back();
    append_lines(lines, drawn_in(plan, study));
    append_lines(lines, one_by_one(plan, study));
    lines.emplace_back();
    append_lines(lines, labelled("WHY", "what goes wrong, how far as a rule (two of three times less), how often in this ring, and its share:"));
    append_lines(lines, budget_table(study.budget, project));
    append_lines(lines, helps(plan, study));
    append_lines(lines, ways(study, project));
    lines.emplace_back();
    append_lines(lines, fit_last(plan, study));
    append_lines(lines, halves(plan, study));
    append_lines(lines, test_cut_lines(study.advice.tests, project));
    append_lines(lines, closing_words(project, options));
    return text_of(lines);
}

}  // namespace boardring
