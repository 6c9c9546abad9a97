#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "project/joint_kinds.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr double kNarrowMm = 60.0;  // common practice: on less than this nobody sets a slope from two marks
constexpr std::size_t kMostSums = 3;
constexpr double kReadingInchMm = 25.4 / 64.0;
constexpr double kReadingMm = 0.5;  // half a millimetre (1/64 in): how well a pencil mark is placed, common practice

bool counts_from_edge(const Project& project) {
    return project.tools.scale_at_square_deg != 0.0;
}

// How many cuts are made at the setting of this one.
std::size_t count_at(const Plan& plan, const CutRef& cut) {
    for (const SettingGroup& group : plan.cut_list->settings) {
        if (!group.cuts.empty() && group.cuts.front().board == cut.board && group.cuts.front().end == cut.end) return group.count;
    }
    return 0;
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

// How the settings shown sit with the steps of the saw's scale.
std::string click_words(const Plan& plan) {
    const Project& project = plan.project;
    const std::string step = show_number(project.tools.saw_step_deg, 2);
    std::vector<std::string> off;
    for (const CutRef& cut : one_of_each_setting(plan)) {
        const double exact = std::abs(plan.exact_frame().boards[cut.board].ends[cut.end].saw_deg);
        const double seen = shown_away_deg(end_of(plan, cut).saw_deg, project);
        const std::string setting = show_setting(end_of(plan, cut).saw_deg, project);
        if (project.tools.slope_by == SlopeBy::saw) {
            if (std::abs(exact - seen) >= 0.05)
                off.push_back(fmt::format("{} for {}", show_angle(on_scale_deg(exact, project.tools), 2), setting));
        } else if (std::abs(seen - rounded_to_step(seen, project.tools.saw_step_deg)) > 0.01) {
            off.push_back(setting);
        }
    }
    if (off.empty()) return "";
    if (project.tools.slope_by == SlopeBy::saw)
        return fmt::format(" Your saw clicks every {}; exact is {}.", step, listed(off, "so on"));
    if (off.size() > 2) return fmt::format(" Most lie between your saw's steps of {}.", step);
    return fmt::format(" {} {} between your saw's steps of {}.", and_list(off), off.size() == 1 ? "lies" : "lie", step);
}

}  // namespace

bool is_square(const BoardEnd& end, const Project& project) {
    return shown_away_deg(end.saw_deg, project) == 0.0;
}

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

Lines angle_lines(const Plan& plan) {
    const Project& project = plan.project;
    const std::vector<CutRef> cuts = one_of_each_setting(plan);
    if (cuts.empty()) return {};
    const CutRef& example = *std::max_element(
        cuts.begin(), cuts.end(), [&](const CutRef& a, const CutRef& b) { return count_at(plan, a) < count_at(plan, b); });
    const double away = shown_away_deg(end_of(plan, example).saw_deg, project);
    const std::string setting = show_setting(end_of(plan, example).saw_deg, project);
    const char* face = project.lie == Lie::flat ? "long edge" : "outside face";
    std::string text =
        counts_from_edge(project)
            ? fmt::format("as on your saw: 90 is a square cut. A bevel on the {} reads the same. From square {} is {}.", face,
                          setting, show_angle(away, 2))
            : fmt::format("from square: 0 is a square cut. A bevel on the {} reads 90 less: {} for {}.", face,
                          show_angle(90.0 - away, 2), setting);
    std::vector<std::string> sums;
    bool others_alike = false;
    for (const Joint& joint : plan.frame->joints) {
        if (!is_mitred(joint.kind)) {
            others_alike = others_alike || !is_square(plan.frame->boards[joint.before].ends[1], project);
            continue;
        }
        if (std::abs(turn_of(joint.interior_deg)) < kStraightTurnDeg) continue;
        // Corners a tenth apart may print the same two settings: one sum, the one that is right as printed before a rounded one.
        const std::string sum = sum_words(plan, joint);
        const std::string_view parts = std::string_view(sum).substr(0, sum.find(" ="));
        const auto same = std::find_if(sums.begin(), sums.end(), [&](const std::string& s) { return s.substr(0, s.find(" =")) == parts; });
        if (same != sums.end()) {
            if (sum.size() < same->size()) *same = sum;
        } else if (sums.size() <= kMostSums) {
            sums.push_back(sum);
        }
    }
    const std::string clicks = click_words(plan);
    const std::size_t most = clicks.empty() ? kMostSums : kMostSums - 1;
    const bool more = sums.size() > most;
    if (more) sums.resize(most);
    if (!sums.empty()) text += fmt::format(" Check: {}{}.", joined(sums, ", "), more ? " and so on" : "");
    text += clicks;
    if (others_alike) text += " At a butt or lap both ends are sawn alike.";
    return labelled("ANGLES", text);
}

Lines by_hand_lines(const Plan& plan, Words words) {
    const Project& project = plan.project;
    const std::vector<CutRef> cuts = one_of_each_setting(plan);
    if (cuts.empty()) return {};
    const bool marks = project.tools.slope_by == SlopeBy::marks;
    const double base = project.tools.bevel_base_mm;
    std::vector<std::string> rises, swapped;
    for (const CutRef& cut : cuts) {
        const ShownEnd& end = plan.shown[cut.board].ends[cut.end];
        const std::string setting = show_setting(end_of(plan, cut).saw_deg, project);
        if (marks) {
            rises.push_back(fmt::format("{} for {} on board {}", shown(std::abs(end_of(plan, cut).run_mm), project), setting,
                                        board_number(cut.board)));
        } else if (end.bevel_rise_mm <= base * (1.0 + 1e-12)) {
            rises.push_back(fmt::format("{} for {}", shown(end.bevel_rise_mm, project), setting));
        } else {  // steeper than 45: from the other arm, so that the board it is set on need not be longer
            swapped.push_back(fmt::format("{} for {}", shown(base * base / end.bevel_rise_mm, project), setting));
        }
    }
    const std::string from = fmt::format("{}{}", shown(base, project), project.unit == Unit::inch ? " in" : "");
    std::string text;
    if (marks && plan.unrounded) {  // one slope may stand on different marks on different boards
        text = "join the two marks of each end as the drawings (--out) or MARKS (--more) give them.";
    } else if (marks) {
        text = fmt::format("join two marks; the outer lies beyond the inner by {}.", listed(rises, "the rest in --more"));
    }
    if (!marks && shows_rises(plan)) {
        text = fmt::format("set the bevel from {} by the rise in the table.", from);
    } else {
        if (!marks && !rises.empty()) text = fmt::format("set the bevel from {}: rise {}.", from, and_list(rises));
        if (!swapped.empty())
            text +=
                fmt::format("{}rise {} from {}.", text.empty() ? "set the bevel to " : " Steep ones: ", from, and_list(swapped));
    }
    const CutRef& narrow = *std::min_element(cuts.begin(), cuts.end(), [&](const CutRef& a, const CutRef& b) {
        return plan.frame->boards[a.board].width_at(a.end) < plan.frame->boards[b.board].width_at(b.end);
    });
    const double width = plan.frame->boards[narrow.board].width_at(narrow.end);
    if (width < kNarrowMm && words == Words::all) {
        const double reading = in_inches(project) ? kReadingInchMm : kReadingMm;
        const double slope = cos_deg(end_of(plan, narrow).saw_deg);
        const std::string off = show_number(degrees(reading * slope * slope / width), 1);
        text += fmt::format(" {} {}: {} there is {} {}.",
                            marks ? "Use a knife on an edge of" : "Not from two marks on an edge of", shown(width, project),
                            in_inches(project) ? "1/64" : "half a millimetre", off, off == "1" ? "degree" : "degrees");
    }
    return labelled("BY HAND", text);
}

}  // namespace boardring
