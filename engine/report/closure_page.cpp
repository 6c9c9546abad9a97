#include "report/closure_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "report/openings_drawing.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kLongestBar = 40;

std::string way_words(SlopeBy way) {
    switch (way) {
        case SlopeBy::bevel: return "slopes by bevel";
        case SlopeBy::marks: return "slopes by two marks";
        case SlopeBy::saw: return "by the saw's scale and a length stop";
    }
    return "";
}

std::string small(double mm, const Project& project) { return show_small(mm, project.style()); }

std::string preset_words(Preset preset) {
    switch (preset) {
        case Preset::garden: return "garden work";
        case Preset::joinery: return "joinery";
        case Preset::fine: return "fine work";
    }
    return "";
}

// Bars over the widest opening. The wanted gap has a mark where it falls.
Lines histogram(const Simulation& simulation, const Project& project) {
    const double unit_mm = in_inches(project) ? unit_in_mm(Unit::inch) : 1.0;
    const OpeningBins bins = bin_openings(simulation.widest, unit_mm);
    if (bins.most == 0) return {};
    const std::size_t wanted = bins.bin_of(project.wanted.gap_mm);
    Lines lines;
    for (std::size_t b = 0; b < bins.counts.size(); ++b) {
        const std::size_t bar = (bins.counts[b] * kLongestBar + bins.most / 2) / bins.most;
        const std::string to = bins.is_last(b) ? "over" : fmt::format("{} {}", show_number(bins.end_mm(b) / unit_mm, 6), in_inches(project) ? "in" : "mm");
        std::string line = fmt::format("{}{:>9} {}{} {}", std::string(kLabelColumns, ' '), to, std::string(bar, '#'), bar > 0 ? "" : "-",
                                       share_words(static_cast<double>(bins.counts[b]) / static_cast<double>(simulation.runs)));
        if (b == wanted && !bins.is_last(b)) line += "   <- what you want";
        lines.push_back(line);
    }
    return lines;
}

std::string trials_words(const Simulation& simulation) {
    return fmt::format("({} rings tried, seed {}, share good to {:.1f} of 100{})", simulation.runs, simulation.seed,
                       std::max(0.1, 200.0 * simulation.within_error), simulation.still ? "" : "; the numbers still move a little");
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
                                small(s.widest.quantile(0.95), project), trials_words(s)));
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
        text = fmt::format("for 95 of 100 be out by no more than {} of what is assumed, in everything.",
                           fmt::format("{:.0f} %", std::max(1.0, std::floor(*advice.all_times * 100.0))));
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
    if (!study.advice.halves) return {};
    const Project& project = plan.project;
    const HalvesLeft& left = *study.advice.halves;
    const std::string a = corner_letter(left.first_corner), b = corner_letter(left.second_corner);
    return labelled("TWO HALVES", fmt::format("Glue {} to {} and {} to {}, true both faces of each half on a straight edge (about {} comes off the thick "
                                              "end), and put them together: no gap is left at {} and {}, only a lip of about {} on each side.",
                                              a, b, b, a, small(left.skim_sd_mm, project), a, b, small(left.lip_sd_mm, project)));
}

// How the test pieces are made and what they show together.
std::string test_pieces_words(const TestRing& test, const Project& project) {
    if (test.saw_deg <= 0.0)
        return "saw a wide piece of scrap through square, turn one half over and hold both with one edge against a straight edge: where they "
               "meet they part by twice the error.";
    const std::string pieces = test.pieces == 1 ? "one piece of scrap" : fmt::format("{} pieces of scrap", count_word(test.pieces));
    const std::string ends = test.saw_deg - test.other_deg < 1e-6
                                 ? fmt::format("at {} on both ends, join them", show_setting(test.saw_deg, project))
                                 : fmt::format("at {} on one end and {} on the other, join unlike ends", show_setting(test.saw_deg, project),
                                               show_setting(test.other_deg, project));
    return fmt::format("cut {} {} and lay the half-ring on a straight edge: it shows {} times the error of one cut.", pieces, ends, 2 * test.pieces);
}

Lines tests(const Plan& plan, const LastJointStudy& study) {
    const Project& project = plan.project;
    if (study.advice.tests.empty()) {
        return labelled("TEST CUTS", "no number of pieces at these settings makes a half-ring: try each corner with two test cuts against the bevel.");
    }
    const TestRing& test = study.advice.tests.front();
    const double unit_mm = in_inches(project) ? 25.4 / 16.0 : 1.0;
    const std::string unit = in_inches(project) ? "1/16" : "1 mm";
    const char* turn = project.lie == Lie::on_edge ? "tilt" : "swing";
    std::string text = test_pieces_words(test, project);
    text += test.saw_deg > 0.0
                ? fmt::format(" With one end flat on it, the other end's face ({} wide) stands off more at one edge than at the other: for each {} of "
                              "that each cut is out by {}. Open at the outside: {} more; at the inside: {} less.",
                              shown(test.face_mm, project), unit, show_angle(test.deg_per_mm * unit_mm, 2), turn, turn)
                : fmt::format(" For each {} across {} the cut is out by {}.", unit, shown(test.face_mm, project),
                              show_angle(test.deg_per_mm * unit_mm, 2));
    const double shim_at_mm = in_inches(project) ? 12.0 * 25.4 : kShimAtMm;
    text += fmt::format(" At {} from the pivot that is a shim of {} for each {}.", shown(shim_at_mm, project),
                        small(test.shim_per_mm * shim_at_mm / kShimAtMm * unit_mm, project), unit);
    return labelled("TEST CUTS", text);
}

std::string padded_row(const std::array<std::string, 5>& cells, const std::array<std::size_t, 5>& widths) {
    std::string line = "  " + padded(cells[0], widths[0]);
    for (std::size_t c = 1; c < cells.size(); ++c) line += "   " + padded_before(cells[c], widths[c]);
    return line;
}

}  // namespace

std::string sd_words(ErrorKind kind, double sd, const Project& project) {
    switch (kind) {
        case ErrorKind::cut:
        case ErrorKind::scale: return show_angle(sd, 2) + " deg";
        case ErrorKind::rule: return fmt::format("{:.2g} in 1000", sd);
        case ErrorKind::setting: return small(sd, project) + " of rise";
        case ErrorKind::mark:
        case ErrorKind::stop:
        case ErrorKind::length:
        case ErrorKind::thickness: return small(sd, project);
    }
    return "";
}

std::string of_hundred(double share) {
    if (share < 0.01) return "fewer than 1 of 100";
    if (share > 0.99) return "more than 99 of 100";
    return fmt::format("{} of 100", static_cast<int>(std::floor(100.0 * share + 0.5)));
}

std::string share_words(double share) { return share > 0.0 && share < 0.005 ? "< 1 %" : fmt::format("{:.0f} %", 100.0 * share); }

std::vector<std::string> budget_table(const Budget& budget, const Project& project) {
    std::vector<std::array<std::string, 5>> rows{{"source", "out by", "times", "drawn in", fmt::format("stiff at {}", corner_letter(budget.corner))}};
    for (const BudgetLine& line : budget.lines) {
        rows.push_back({source_words(line.source.kind), sd_words(line.source.kind, line.source.sd, project), std::to_string(line.source.inputs),
                        share_words(line.spread_share), share_words(line.stiff_share)});
    }
    std::array<std::size_t, 5> widths{};
    for (const auto& row : rows) {
        for (std::size_t c = 0; c < widths.size(); ++c) widths[c] = std::max(widths[c], columns_of(row[c]));
    }
    std::vector<std::string> lines;
    for (const auto& row : rows) lines.push_back(padded_row(row, widths));
    return lines;
}

std::string closure_page(const Plan& plan, const LastJointStudy& study, const PageOptions& options) {
    const Project& project = plan.project;
    Lines lines = labelled("LAST JOINT", fmt::format("{}; {}, {}. Lengths in {}.", clean_text(project.title, 60), way_words(study.budget.way),
                                                     preset_words(project.accuracy.preset), unit_words(project.unit)));
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
    append_lines(lines, tests(plan, study));
    append_lines(lines, labelled("I ASSUMED", fmt::format("how far each thing is out: common practice for {}, unless \"accuracy\" in {} says otherwise.",
                                                          preset_words(project.accuracy.preset),
                                                          clean_text(options.file_name.empty() ? options.project_name : options.file_name, 60))));
    append_lines(lines, labelled("TAKE CARE", "Test cuts are cuts: clamp, hands clear of the blade, your saw's own book first."));
    std::string text;
    for (const std::string& line : lines) text += line + "\n";
    return text;
}

}  // namespace boardring
