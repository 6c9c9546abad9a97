#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "base/angle.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "project/joint_kinds.hpp"
#include "report/closure_words.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

// How far the widest joint opens for each radian by which every cut is out the same way: 2 w / cos S at a mitre, half that where
// one end meets an edge (butt) or two shoulders share the error (half-lap).
double opening_per_radian(const Plan& plan) {
    double widest = 0.0;
    for (const Joint& joint : plan.frame->joints)
        widest = std::max(widest, (is_mitred(joint.kind) ? 2.0 : 1.0) * joint.face_mm);
    return widest;
}

std::string stays_within(double deg) {
    if (deg >= 0.1) return show_number(std::floor(deg * 10.0 + 1e-9) / 10.0, 1);
    return show_number(std::floor(deg * 100.0 + 1e-9) / 100.0, 2);
}

std::string common_error_words(const Plan& plan) {
    const Project& project = plan.project;
    const double per_radian = opening_per_radian(plan);
    if (per_radian <= 0.0 || one_of_each_setting(plan).empty()) return "";
    const double off = std::max(project.accuracy.common_angle_deg, 0.05);
    const double stay = degrees(project.wanted.gap_mm / per_radian);
    const std::string opens = fmt::format(" Every cut off by {} the same way opens {}", show_number(off, 2),
                                          shown_misfit(radians(off) * per_radian, project));
    const std::string gap = shown_wanted_gap(project);
    if (stay < 0.01) return fmt::format("{}; {} is more than a saw can promise.", opens, gap);
    if (stay > 5.0) return fmt::format("{}.", opens);
    return fmt::format("{}; for {} stay within {}.", opens, gap, stays_within(stay));
}

// What care in cutting makes of it: how many rings keep the wanted gap, what counts most, how long to leave the last board.
std::string odds_words(const Plan& plan) {
    const Project& project = plan.project;
    const Budget& budget = *plan.budget;
    const bool said = std::any_of(plan.findings.begin(), plan.findings.end(), [](const Finding& f) { return f.code == "closure.gap-unlikely"; });
    std::string text;
    if (!said) {
        text = fmt::format(" Made with usual care {}{} rings open {} or less drawn in; most is due to {}.",
                           budget.spread.within > 0.01 && budget.spread.within <= 0.99 ? "about " : "", of_hundred(budget.spread.within),
                           shown_wanted_gap(project), source_words(budget.lines.front().source.kind));
    }
    const LeaveLong& leave = budget.leave_long;
    const double leave_mm = stepped_up_mm(leave.long_mm, project);
    if (leave.told_mm >= leave.long_mm || leave_mm <= 0.0) return text;
    const auto long_words = [&](double mm) {
        return project.unit == Unit::mm || in_inches(project) ? shown(mm, project) : show_length_unit(mm, project.style());
    };
    const std::size_t last = leave.board;
    if (leave_mm > plan.frame->boards[last].width_at(1)) {
        // Longer than the board is thick nobody leaves it: that is no trimming, it is a ring that must not be fixed joint by joint.
        text += fmt::format(" Do not fix joint by joint: up to {} would pile up at {}", long_words(leave_mm), corner_letter(leave.corner));
        if (leave.told_mm > 0.0) text += fmt::format(", where {} long is too short in {}", long_words(leave.told_mm), of_hundred(leave.too_short));
        return text + ". Draw it in dry, true it, then fix.";
    }
    text += fmt::format(" {} fixed one by one, {} would have to be left {} long", said ? "With usual errors and" : "So made and", board_number(leave.board),
                        long_words(leave_mm));
    text += leave.told_mm > 0.0 ? fmt::format("; with {} it is too short in {}.", long_words(leave.told_mm), of_hundred(leave.too_short)) : ".";
    return text;
}

Lines closed_last(const Plan& plan, Words words) {
    const Project& project = plan.project;
    const ClosureReport& set = plan.closure->set;
    if (!set.spread || !set.stiff) return {};
    const std::size_t last = plan.assembly->fit_last;
    const std::size_t corner = plan.outline->corner_after(last);
    std::string text = fmt::format("{}, between {} and {}. {} ", corner_letter(corner), board_number(last),
                                   board_number(plan.outline->board_after(corner)),
                                   one_of_each_setting(plan).empty() ? "Cut to the rule" : "As set");
    const JointMisfit& left = set.stiff->last;
    const double most =
        std::max({std::abs(left.gap_in_mm), std::abs(left.gap_out_mm), std::abs(left.lip_in_mm), std::abs(left.lip_out_mm)});
    const std::string widest = shown_misfit(set.spread->widest_mm, project), lip = shown_misfit(set.spread->lip_mm, project),
                      piled = shown_misfit(most, project);
    const auto is_under = [](const std::string& misfit) { return misfit.rfind("under", 0) == 0; };
    if (!set.spread->settled) {
        text += fmt::format("it is too far out to be drawn in: {} is left for board {} to take up.", piled, board_number(last));
    } else if (is_under(piled)) {
        text += fmt::format("it closes to {}, even fixed one by one.", widest);
    } else {
        text += fmt::format("and drawn in it closes to {}{}; fixed one by one, {} is left for board {}.", widest,
                            is_under(lip) ? "" : fmt::format(" with a lip of {}", lip), piled, board_number(last));
    }
    if (plan.rounding->applied) {
        text += fmt::format(" {} went to the step farther off for it; all to the nearest leave {}.",
                            counted(plan.rounding->other_way, "number", "numbers"),
                            shown_misfit(plan.rounding->before_mm, project));
    }
    return labelled("LAST JOINT", words == Words::fewest ? text : text + (plan.budget ? odds_words(plan) : common_error_words(plan)));
}

Lines open_last(const Plan& plan, Words words) {
    const Project& project = plan.project;
    const ClosureReport& set = plan.closure->set;
    if (!set.span_off_mm || !set.span_across_mm) return {};
    const std::string end = corner_letter(plan.outline->corners_mm.size() - 1);
    std::string text = fmt::format("As set, A held, {} lands {} off along the line from A and {} across it.", end,
                                   shown_misfit(*set.span_off_mm, project), shown_misfit(*set.span_across_mm, project));
    return labelled("FREE ENDS", words == Words::fewest ? text : text + common_error_words(plan));
}

}  // namespace

Lines last_joint_lines(const Plan& plan, Words words) {
    return plan.outline->closed ? closed_last(plan, words) : open_last(plan, words);
}

}  // namespace boardring
