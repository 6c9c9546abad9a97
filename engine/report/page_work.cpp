#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <utility>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostListed = 5;  // settings, rises or sums in one sentence
constexpr std::size_t kMostDiagonals = 6;
constexpr double kNarrowMm = 60.0;  // common practice: on less than this nobody sets a slope from two marks
constexpr double kReadingMm = 0.5;  // half a millimetre (1/64 in): how well a pencil mark is placed, common practice

bool counts_from_edge(const Project& project) {
    return project.tools.scale_at_square_deg != 0.0;
}

bool is_square(const BoardEnd& end, const Project& project) {
    return shown_away_deg(end.saw_deg, project) == 0.0;
}

std::string end_name(const Plan& plan, std::size_t board, std::size_t end) {
    return board_number(board) + corner_letter(plan.frame->boards[board].ends[end].corner);
}

// Ends that are not square, one for each setting shown, in order of steepness.
std::vector<CutRef> one_of_each_setting(const Plan& plan) {
    std::vector<CutRef> cuts;
    for (const SettingGroup& group : plan.cut_list->settings) {
        if (group.cuts.empty()) continue;
        const CutRef& cut = group.cuts.front();
        if (!is_square(plan.frame->boards[cut.board].ends[cut.end], plan.project)) cuts.push_back(cut);
    }
    return cuts;
}

const BoardEnd& end_of(const Plan& plan, const CutRef& cut) {
    return plan.frame->boards[cut.board].ends[cut.end];
}

std::string listed(std::vector<std::string> items, const char* rest) {
    if (items.size() > kMostListed) {
        items.resize(kMostListed - 1);
        items.emplace_back(rest);
    }
    return and_list(items);
}

// "15.5 + 44.5 = 60": both settings of a mitre as printed, and what they must make.
std::string sum_words(const Plan& plan, const Joint& joint) {
    const Project& project = plan.project;
    double before = plan.frame->boards[joint.before].ends[1].saw_deg, after = plan.frame->boards[joint.after].ends[0].saw_deg;
    double turn = turn_of(joint.interior_deg);
    if (turn < 0.0) {
        before = -before;
        after = -after;
        turn = -turn;
    }
    if (after > before) std::swap(before, after);
    const bool undercut = after < 0.0;
    const bool from_edge = counts_from_edge(project) && !undercut;
    const auto print = [&](double saw) {
        return from_edge ? show_setting(saw, project) : show_angle(shown_away_deg(saw, project), 2);
    };
    const std::string first = print(before), second = print(after);
    const std::string wanted = show_angle(from_edge ? 180.0 - turn : turn, 1);
    const bool minus = undercut && second != "0";
    const bool exact = adds_up({first, fmt::format("{}{}", minus ? "-" : "", second)}, wanted);
    std::string words = fmt::format("{} {} {}", first, minus ? "-" : "+", second);
    if (exact) return fmt::format("{} = {}", words, wanted);
    const double printed = std::strtod(first.c_str(), nullptr) + (minus ? -1.0 : 1.0) * std::strtod(second.c_str(), nullptr);
    if (std::abs(printed - (from_edge ? 180.0 - turn : turn)) < 0.16) return fmt::format("{} = {} (rounded)", words, wanted);
    return fmt::format("{} = {}, for {}", words, show_angle(printed, 2), wanted);
}

// What the saw's scale would show for slopes set by the bevel, where its steps cannot show them.
std::string click_words(const Plan& plan) {
    const Project& project = plan.project;
    if (project.tools.slope_by == SlopeBy::saw) {
        std::vector<std::string> exact;
        for (const CutRef& cut : one_of_each_setting(plan)) {
            const double saw = std::abs(end_of(plan, cut).saw_deg);
            if (std::abs(saw - shown_away_deg(saw, project)) < 0.05) continue;
            exact.push_back(
                fmt::format("{} for {}", show_angle(on_scale_deg(saw, project.tools), 2), show_setting(saw, project)));
        }
        if (exact.empty()) return "";
        return fmt::format(" Your saw clicks every {}; exact would be {}.", show_number(project.tools.saw_step_deg, 2),
                           listed(exact, "so on"));
    }
    std::vector<std::string> off;
    for (const CutRef& cut : one_of_each_setting(plan)) {
        const double shown_deg = shown_away_deg(end_of(plan, cut).saw_deg, project);
        if (std::abs(shown_deg - rounded_to_step(shown_deg, project.tools.saw_step_deg)) > 0.01)
            off.push_back(show_setting(end_of(plan, cut).saw_deg, project));
    }
    if (off.empty()) return "";
    return fmt::format(" {} {} between your saw's {} steps: set the saw to the {}, not to its scale.", listed(off, "others"),
                       off.size() == 1 ? "falls" : "fall", show_number(project.tools.saw_step_deg, 2),
                       project.tools.slope_by == SlopeBy::bevel ? "bevel" : "marks");
}

double opening_per_radian(const Plan& plan) {
    double widest = 0.0;
    for (const Joint& joint : plan.frame->joints) {
        const double cuts =
            joint.kind == JointKind::mitre ? 2.0 : 1.0;  // one end meets an edge in a butt; shoulders share an error in a lap
        widest = std::max(widest, cuts * joint.face_mm);
    }
    return widest;
}

std::string stays_within(double deg) {
    if (deg >= 0.1) return show_number(std::floor(deg * 10.0 + 1e-9) / 10.0, 1);
    return show_number(std::floor(deg * 100.0 + 1e-9) / 100.0, 2);
}

std::string set_words(const Project& project) {
    switch (project.tools.slope_by) {
        case SlopeBy::saw:
            return "As set on your saw";
        case SlopeBy::bevel:
            return "Set by the bevel";
        case SlopeBy::marks:
            return "Cut to the marks";
    }
    return "As set";
}

std::string common_error_words(const Plan& plan) {
    const Project& project = plan.project;
    const double per_radian = opening_per_radian(plan);
    if (per_radian <= 0.0) return "";
    const double off = std::max(project.accuracy.common_angle_deg, 0.05);
    const double stay = degrees(project.wanted.gap_mm / per_radian);
    std::string text = fmt::format(" If every cut is out by {} the same way, joints open {}", show_number(off, 2),
                                   shown_misfit(radians(off) * per_radian, project));
    if (stay < 0.01)
        return text + fmt::format("; a gap of {} is more than a saw can promise.", shown_misfit(project.wanted.gap_mm, project));
    return text +
           fmt::format("; for your {} stay within {} degrees.",
                       in_inches(project) ? show_number(project.wanted.gap_mm / 25.4, 3) : show_number(project.wanted.gap_mm, 2),
                       stays_within(std::min(stay, 5.0)));
}

Lines closed_last(const Plan& plan) {
    const Project& project = plan.project;
    const ClosureReport& set = plan.closure->set;
    if (!set.spread || !set.stiff) return {};
    const std::size_t last = plan.assembly->fit_last;
    const std::size_t corner = plan.outline->corner_after(last);
    std::string text = fmt::format("{}, between {} and {}. ", corner_letter(corner), board_number(last),
                                   board_number(plan.outline->board_after(corner)));
    text +=
        fmt::format("{}, drawn in as a whole, it closes to {}", set_words(project), shown_misfit(set.spread->widest_mm, project));
    const std::string lip = shown_misfit(set.spread->lip_mm, project);
    if (lip.rfind("under", 0) != 0) text += fmt::format(" with a lip of {}", lip);
    text += ".";
    const JointMisfit& left = set.stiff->last;
    const double most =
        std::max({std::abs(left.gap_in_mm), std::abs(left.gap_out_mm), std::abs(left.lip_in_mm), std::abs(left.lip_out_mm)});
    text += fmt::format(" Fixed one after another, {} is left at A: that is what board {} has to take up.",
                        shown_misfit(most, project), board_number(last));
    return labelled("LAST JOINT", text + common_error_words(plan));
}

Lines open_last(const Plan& plan) {
    const Project& project = plan.project;
    const ClosureReport& set = plan.closure->set;
    if (!set.span_off_mm || !set.span_across_mm) return {};
    const std::size_t last = plan.assembly->fit_last;
    const std::string end = corner_letter(plan.outline->corners_mm.size() - 1);
    std::string text = fmt::format(
        "{}, with A held, the far end {} lands {} off along the line from A to {}, and {} off across it.", set_words(project),
        end, shown_misfit(*set.span_off_mm, project), end, shown_misfit(*set.span_across_mm, project));
    if (plan.assembly->leave_long_mm > 0.0) {
        text += fmt::format(" Board {} is left {} long for that: mark it in place.", board_number(last),
                            shown(plan.assembly->leave_long_mm, project));
    }
    return labelled("FREE ENDS", text + common_error_words(plan));
}

// The joint to try first: two cuts of one setting; else the mitre with most wood in it.
std::optional<std::size_t> test_corner(const Plan& plan) {
    const SettingGroup* best = nullptr;
    for (const SettingGroup& group : plan.cut_list->settings) {
        if (group.test_pair_deg && shown_away_deg(group.setting_deg, plan.project) > 0.0 &&
            (best == nullptr || group.count > best->count))
            best = &group;
    }
    if (best != nullptr) return best->test_corner;
    for (const Joint& joint : plan.frame->joints) {
        if (joint.kind == JointKind::mitre && std::abs(turn_of(joint.interior_deg)) > kStraightTurnDeg) return joint.corner;
    }
    return std::nullopt;
}

const Joint& joint_at(const Plan& plan, std::size_t corner) {
    return *std::find_if(plan.frame->joints.begin(), plan.frame->joints.end(),
                         [&](const Joint& j) { return j.corner == corner; });
}

std::string test_step(const Plan& plan) {
    const Project& project = plan.project;
    const std::optional<std::size_t> corner = test_corner(plan);
    if (!corner) {
        return one_of_each_setting(plan).empty() ? "Test the saw: two square cuts on scrap put together must lie in one line."
                                                 : "Test each setting on scrap against the bevel before you cut a board.";
    }
    const Joint& joint = joint_at(plan, *corner);
    const bool inward = joint.interior_deg > 180.0;
    const std::string must = show_angle(inward ? 360.0 - joint.interior_deg : joint.interior_deg, 1);
    return fmt::format("Cut {} and {} first, on test pieces; put together they must make {}. If less, {} less.",
                       end_name(plan, joint.before, 1), end_name(plan, joint.after, 0), must,
                       project.lie == Lie::on_edge ? "tilt" : "swing");
}

std::string cuts_step(const Plan& plan) {
    const Project& project = plan.project;
    std::vector<std::string> runs;
    for (const SettingGroup& group : plan.cut_list->settings) {
        const bool square = shown_away_deg(group.setting_deg, project) == 0.0;
        runs.push_back(fmt::format("{} ({} {})", square ? std::string("square") : show_setting(group.setting_deg, project),
                                   group.count, runs.empty() ? (group.count == 1 ? "end" : "ends") : ""));
        if (!runs.empty() && runs.back().size() > 2 && runs.back()[runs.back().size() - 2] == ' ')
            runs.back().erase(runs.back().size() - 2, 1);
    }
    std::vector<std::string> short_runs = runs;
    if (short_runs.size() > kMostListed + 1) {
        const std::size_t more = short_runs.size() - kMostListed;
        short_runs.resize(kMostListed);
        short_runs.push_back(fmt::format("{} more settings (--more)", more));
    }
    return fmt::format("Cut by setting: {}. Measure along the long edge, point to point.", joined(short_runs, ", "));
}

std::string fit_step(const Plan& plan) {
    const std::size_t n = plan.shown.size();
    const std::size_t last = plan.assembly->fit_last;
    const std::string leave = plan.assembly->leave_long_mm > 0.0
                                  ? fmt::format(", {} long at {}", shown(plan.assembly->leave_long_mm, plan.project),
                                                corner_letter(plan.outline->corner_after(last)))
                                  : "";
    std::vector<std::size_t> others;
    for (std::size_t k = 0; k < n; ++k) {
        if (k != last) others.push_back(k);
    }
    return fmt::format(
        "Dry fit {}, then {}{}: {}.", board_list(others), board_number(last), leave,
        leave.empty() ? "if the gap differs, trim to the gap you find, not to the paper" : "trim it to the gap you find");
}

std::string halves_step(const Plan& plan) {
    const Halves& halves = *plan.assembly->halves;
    const std::string a = corner_letter(halves.first_corner), b = corner_letter(halves.second_corner);
    return fmt::format(
        "To glue: two halves, {} to {} and {} to {}; lay each against a straight edge and true both faces, then join.", a, b, b,
        a);
}

// Diagonals of one length said once: "AC, BD and CE 739".
std::vector<std::pair<std::string, std::vector<std::string>>> by_length(const Plan& plan, bool outside) {
    std::vector<std::pair<std::string, std::vector<std::string>>> groups;
    std::size_t told = 0;
    for (const Diagonal& d : plan.assembly->diagonals) {
        if (told++ == kMostDiagonals) break;
        const std::string length = shown(outside ? d.outside_mm : d.inside_mm, plan.project);
        const std::string first = corner_letter(d.first), second = corner_letter(d.second);
        const std::string name = fmt::format("{}{}{}", first, first.size() + second.size() > 2 ? "-" : "", second);
        if (groups.empty() || groups.back().first != length) groups.push_back({length, {}});
        groups.back().second.push_back(name);
    }
    return groups;
}

}  // namespace

Lines angle_lines(const Plan& plan) {
    const Project& project = plan.project;
    const std::vector<CutRef> cuts = one_of_each_setting(plan);
    if (cuts.empty()) return {};
    std::string text;
    std::vector<std::string> edges;
    const bool from_edge = counts_from_edge(project);
    for (const CutRef& cut : cuts) {
        const double away = shown_away_deg(end_of(plan, cut).saw_deg, project);
        edges.push_back(fmt::format("{} for {}", show_angle(from_edge ? away : 90.0 - away, 2),
                                    show_setting(end_of(plan, cut).saw_deg, project)));
    }
    if (from_edge) {
        text = fmt::format(
            "are counted as on your saw: 90 is square, and a bevel laid on the {} reads the same. Away from square that is {}.",
            project.lie == Lie::flat ? "long edge" : "outside face", listed(edges, "so on"));
    } else {
        text = fmt::format("are counted from a square cut: 0 is square. A bevel laid on the {} reads {}.",
                           project.lie == Lie::flat ? "long edge" : "outside face", listed(edges, "so on (90 less it)"));
    }
    text += click_words(plan);
    std::vector<std::string> sums;
    bool butts = false;
    for (const Joint& joint : plan.frame->joints) {
        if (joint.kind != JointKind::mitre) {
            butts = butts || !is_square(plan.frame->boards[joint.before].ends[1], project);
            continue;
        }
        const std::string sum = sum_words(plan, joint);
        if (std::find(sums.begin(), sums.end(), sum) == sums.end()) sums.push_back(sum);
    }
    const std::size_t distinct = sums.size();
    if (sums.size() > 3) sums.resize(3);
    if (!sums.empty())
        text += fmt::format(" Check: {}{}.", and_list(sums), distinct > sums.size() ? " (all joints: --more)" : "");
    if (butts) text += " Both ends of a butt or lap are sawn alike.";
    return labelled("ANGLES", text);
}

Lines by_hand_lines(const Plan& plan) {
    const Project& project = plan.project;
    const std::vector<CutRef> cuts = one_of_each_setting(plan);
    if (cuts.empty()) return {};
    const bool marks = project.tools.slope_by == SlopeBy::marks;
    std::vector<std::string> items;
    const double base = project.tools.bevel_base_mm;
    for (const CutRef& cut : cuts) {
        const ShownEnd& end = plan.shown[cut.board].ends[cut.end];
        const std::string setting = show_setting(end_of(plan, cut).saw_deg, project);
        if (marks) {
            items.push_back(fmt::format("{} for {} on {}", shown(std::abs(end_of(plan, cut).run_mm), project), setting,
                                        board_number(cut.board)));
        } else if (end.bevel_rise_mm <= base + 1e-9) {
            items.push_back(fmt::format("{} for {}", shown(end.bevel_rise_mm, project), setting));
        } else {
            items.push_back(
                fmt::format("{} to {} for {}", shown(base * base / end.bevel_rise_mm, project), shown(base, project), setting));
        }
    }
    std::string text =
        marks ? fmt::format("join two marks; the outer lies beyond the inner by {}.", listed(items, "the rest in --more"))
              : fmt::format("set the bevel from {}{}: rise {}.", shown(base, project),
                            in_inches(project) && project.unit == Unit::inch ? " in" : "", listed(items, "the rest in --more"));
    double narrow = plan.frame->boards[cuts.front().board].width_mm;
    const double slope = cos_deg(end_of(plan, cuts.front()).saw_deg);
    for (const CutRef& cut : cuts) narrow = std::min(narrow, plan.frame->boards[cut.board].width_mm);
    if (narrow < kNarrowMm) {
        const double reading = in_inches(project) ? 25.4 / 64.0 : kReadingMm;
        const double off = degrees(reading * slope * slope / narrow);
        text += fmt::format(" {} {} edge: {} there is {} of a degree.",
                            marks ? "Knife, not pencil: two marks lie only as far apart as a" : "Not from two marks on a",
                            shown(narrow, project), in_inches(project) ? "1/64" : "half a millimetre", show_number(off, 1));
    }
    return labelled("BY HAND", text);
}

Lines order_lines(const Plan& plan, bool flowing) {
    std::vector<std::string> steps{test_step(plan), cuts_step(plan), fit_step(plan)};
    if (plan.assembly->halves && plan.shown.size() >= 6) steps.push_back(halves_step(plan));
    if (flowing) {
        std::string text;
        for (std::size_t i = 0; i < steps.size(); ++i) text += fmt::format("{}{} {}", i == 0 ? "" : "  ", i + 1, steps[i]);
        return labelled("ORDER", text);
    }
    Lines lines;
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const Lines step =
            labelled(fmt::format("{}{}", padded(i == 0 ? "ORDER" : "", kLabelColumns), i + 1), steps[i], kLabelColumns + 2);
        append_lines(lines, step);
    }
    return lines;
}

Lines last_joint_lines(const Plan& plan) {
    return plan.outline->closed ? closed_last(plan) : open_last(plan);
}

Lines check_lines(const Plan& plan) {
    const Project& project = plan.project;
    const Assembly& assembly = *plan.assembly;
    if (assembly.diagonals.empty()) {
        if (!plan.outline->closed) return {};
        std::vector<std::string> sides;
        for (const ShownBoard& board : plan.shown) sides.push_back(shown(board.inside_length_mm, project));
        return labelled("CHECK", fmt::format("The inside edges, {}, fix a triangle: no diagonal is needed.", and_list(sides)));
    }
    const double apart = std::max(2.0 * project.accuracy.diagonal_mm, project.tools.rule_step_mm);
    const std::string limit =
        shown(std::max(rounded_to_step(apart, project.tools.rule_step_mm), project.tools.rule_step_mm), project);
    const auto groups = by_length(plan, false);
    std::string text;
    if (!plan.outline->closed) {
        text = "Inside, point to point: ";
    } else if (groups.size() == 1 && groups.front().second.size() > 1) {
        return labelled(
            "CHECK", fmt::format("{} diagonals point to point inside, all {}: {}. If they differ by more than {}, push it true.",
                                 capital(count_word(groups.front().second.size())), groups.front().first,
                                 and_list(groups.front().second), limit));
    } else {
        text = "Point to point inside: ";
    }
    for (std::size_t i = 0; i < groups.size(); ++i)
        text += fmt::format("{}{} {}", i == 0 ? "" : ", ", and_list(groups[i].second), groups[i].first);
    return labelled("CHECK", text + fmt::format(". If one is out by more than {}, push it true before you fix it.", limit));
}

}  // namespace boardring
