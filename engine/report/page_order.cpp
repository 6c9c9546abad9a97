#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "base/angle_text.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "project/joint_kinds.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostDiagonals = 6;  // of one length
constexpr std::size_t kMostUnlikeDiagonals = 3;

std::string end_name(const Plan& plan, std::size_t board, std::size_t end) {
    return board_number(board) + corner_letter(plan.frame->boards[board].ends[end].corner);
}

// The setting of an end as printed, for comparing.
std::string setting_at(const Plan& plan, std::size_t board, std::size_t end) {
    return show_setting(plan.frame->boards[board].ends[end].saw_deg, plan.project);
}

// The joint to try first: a mitre of two equal cuts at the commonest setting, away from the last joint; else any mitre.
const Joint* test_joint(const Plan& plan) {
    const SettingGroup* commonest = nullptr;
    for (const SettingGroup& group : plan.cut_list->settings) {
        if (!group.test_pair_deg || shown_away_deg(group.setting_deg, plan.project) == 0.0) continue;
        const bool better = commonest == nullptr || (group.within_saw && !commonest->within_saw) ||
                            (group.within_saw == commonest->within_saw && group.count > commonest->count);
        if (better) commonest = &group;
    }
    const std::size_t last = plan.assembly->fit_last;
    const Joint* best = nullptr;
    int best_rank = 0;
    for (const Joint& joint : plan.frame->joints) {
        if (!is_mitred(joint.kind) || is_square(plan.frame->boards[joint.before].ends[1], plan.project)) continue;
        const std::string before = setting_at(plan, joint.before, 1);
        const bool pair = commonest != nullptr && before == setting_at(plan, joint.after, 0) &&
                          before == show_setting(commonest->setting_deg, plan.project);
        const int rank = 1 + (pair ? 2 : 0) + (joint.before != last && joint.after != last ? 1 : 0);
        if (rank > best_rank) {
            best = &joint;
            best_rank = rank;
        }
    }
    return best;
}

std::string test_step(const Plan& plan) {
    const Project& project = plan.project;
    const Joint* joint = test_joint(plan);
    if (joint == nullptr) {
        return one_of_each_setting(plan).empty() ? "Test the saw: two square cuts on scrap put together must lie in one line."
                                                 : "Test each setting on scrap against the bevel before you cut a board.";
    }
    const bool inward = joint->interior_deg > 180.0;
    const std::string must = show_angle(inward ? 360.0 - joint->interior_deg : joint->interior_deg, 1);
    const bool by_marks = project.tools.slope_by == SlopeBy::marks;
    return fmt::format("{} {} and {} on test pieces: together they must make {}. If less, {}.", by_marks ? "Mark and saw" : "Cut",
                       end_name(plan, joint->before, 1), end_name(plan, joint->after, 0), must, slope_less_words(project));
}

std::string cuts_step(const Plan& plan) {
    if (plan.project.tools.slope_by == SlopeBy::marks && !one_of_each_setting(plan).empty())
        return "Mark both edges of each board from one square line, join the marks, and saw on the waste side.";
    if (plan.cut_list->settings.size() > kMostListed)
        return "Cut each end to its own setting in the table; measure along the long edge.";
    std::vector<std::string> runs;
    for (const SettingGroup& group : plan.cut_list->settings) {
        const bool square = shown_away_deg(group.setting_deg, plan.project) == 0.0;
        const char* ends = !runs.empty() ? "" : group.count == 1 ? " end" : " ends";
        runs.push_back(fmt::format("{} ({}{})", square ? std::string("square") : show_setting(group.setting_deg, plan.project),
                                   group.count, ends));
    }
    return fmt::format("Cut by setting: {}; measure along the long edge.", joined(runs, ", "));
}

std::string fit_step(const Plan& plan) {
    const std::size_t last = plan.assembly->fit_last;
    std::vector<std::size_t> others;
    for (std::size_t k = 0; k < plan.shown.size(); ++k) {
        if (k != last) others.push_back(k);
    }
    const std::string fit = fmt::format("Dry fit {}, then {}", board_list(others), board_number(last));
    if (plan.assembly->leave_long_mm <= 0.0) return fmt::format("{}, trimmed to the gap you find, not to the paper.", fit);
    return fmt::format("{}, left {} long at {}: trim it to the gap you find.", fit,
                       shown(plan.assembly->leave_long_mm, plan.project), corner_letter(plan.outline->corner_after(last)));
}

std::string halves_step(const Plan& plan) {
    const Halves& halves = *plan.assembly->halves;
    const std::string a = corner_letter(halves.first_corner), b = corner_letter(halves.second_corner);
    return fmt::format("Or glue two halves, {} to {} and {} to {}, true their faces against a straight edge, and join them.", a,
                       b, b, a);
}

// Diagonals of one length said once: "AC, BD and CE 739".
std::vector<std::pair<std::string, std::vector<std::string>>> by_length(const Plan& plan) {
    std::vector<std::pair<std::string, std::vector<std::string>>> groups;
    std::size_t told = 0;
    for (const Diagonal& d : plan.assembly->diagonals) {
        if (told++ == kMostDiagonals) break;
        const std::string length = shown(d.inside_mm, plan.project);
        const std::string first = corner_letter(d.first), second = corner_letter(d.second);
        const std::string name = fmt::format("{}{}{}", first, first.size() + second.size() > 2 ? "-" : "", second);
        if (groups.empty() || groups.back().first != length) groups.push_back({length, {}});
        groups.back().second.push_back(name);
    }
    return groups;
}

}  // namespace

std::string slope_less_words(const Project& project) {
    if (project.tools.slope_by == SlopeBy::marks) return "the outer mark lies too far on";
    return project.lie == Lie::on_edge ? "tilt less" : "swing less";
}

std::vector<std::string> order_steps(const Plan& plan, bool halves) {
    std::vector<std::string> steps{test_step(plan), cuts_step(plan), fit_step(plan)};
    if (halves && plan.assembly->halves && plan.shown.size() >= 6) steps.push_back(halves_step(plan));
    return steps;
}

Lines order_lines(const Plan& plan, bool flowing, bool halves) {
    const std::vector<std::string> steps = order_steps(plan, halves);
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
    const auto groups = by_length(plan);
    const bool alike = groups.size() == 1 && groups.front().second.size() > 1;
    if (alike) {
        const auto& [length, names] = groups.front();
        return labelled("CHECK", fmt::format("{} point to point inside, {} {}; if they differ by {}, push it true.",
                                             and_list(names), names.size() == 2 ? "both" : "all", length, limit));
    }
    std::vector<std::string> items;
    for (const auto& [length, names] : groups) {
        if (items.size() == kMostUnlikeDiagonals) break;
        items.push_back(fmt::format("{} {}", and_list(names), length));
    }
    return labelled("CHECK",
                    fmt::format("{} point to point inside; if one is {} out, push it true.", joined(items, "; "), limit));
}

}  // namespace boardring
