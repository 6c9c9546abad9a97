#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <utility>

#include "base/angle.hpp"
#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "project/joint_kinds.hpp"
#include "report/closure_words.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

namespace boardring {
namespace {

constexpr std::size_t kMostListed = 5;     // settings, rises or sums in one sentence
constexpr std::size_t kMostDiagonals = 6;  // of one length
constexpr std::size_t kMostUnlikeDiagonals = 3;
constexpr double kNarrowMm = 60.0;  // common practice: on less than this nobody sets a slope from two marks
constexpr std::size_t kMostSums = 3;
constexpr double kReadingInchMm = 25.4 / 64.0;
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

// How many cuts are made at the setting of this one.
std::size_t count_at(const Plan& plan, const CutRef& cut) {
    for (const SettingGroup& group : plan.cut_list->settings) {
        if (!group.cuts.empty() && group.cuts.front().board == cut.board && group.cuts.front().end == cut.end) return group.count;
    }
    return 0;
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
        text = fmt::format(" Made with usual care {} rings open {} or less drawn in; most is due to {}.", of_hundred(budget.spread.within),
                           shown_wanted_gap(project), source_words(budget.lines.front().source.kind));
    }
    const LeaveLong& leave = budget.leave_long;
    const double leave_mm = stepped_up_mm(leave.long_mm, project);
    if (leave.told_mm >= leave.long_mm || leave_mm <= 0.0) return text;
    const auto long_words = [&](double mm) {
        return project.unit == Unit::mm || in_inches(project) ? shown(mm, project) : show_length_unit(mm, project.style());
    };
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
    return fmt::format("Cut {} and {} on test pieces: together they must make {}. If less, {} less.",
                       end_name(plan, joint->before, 1), end_name(plan, joint->after, 0), must,
                       project.lie == Lie::on_edge ? "tilt" : "swing");
}

std::string cuts_step(const Plan& plan) {
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

Lines last_joint_lines(const Plan& plan, Words words) {
    return plan.outline->closed ? closed_last(plan, words) : open_last(plan, words);
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
