#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "base/angle_text.hpp"
#include "base/names.hpp"
#include "outline/notebook.hpp"
#include "report/page_parts.hpp"
#include "report/wording.hpp"

// Two questions of a job: how does a frame hang on a crooked opening, and which peg of a staked-out ring moves where.

namespace boardring {
namespace {

constexpr std::size_t kMostPegsTold = 3;

std::string letters_of(const Plan& plan, std::size_t board) {
    return pair_name(board, plan.outline->corner_after(board));
}

// "4.5 to 11.5": the margins of the true frame, least and most anywhere.
std::pair<double, double> margins_of(const Hang& hang) {
    double least = hang.sides[0].margin_mm[0], most = least;
    for (const HungSide& side : hang.sides) {
        for (const double margin : side.margin_mm) least = std::min(least, margin), most = std::max(most, margin);
    }
    return {least, most};
}

std::string out_of_true_words(const Plan& plan, const Hang& hang) {
    return fmt::format("{} is {} out, more than the margin gives", letters_of(plan, hang.needs_side), shown_misfit(hang.needs_mm, plan.project));
}

Lines hang_lines(const Plan& plan) {
    if (!plan.outline->hang) return {};
    const Hang& hang = *plan.outline->hang;
    const auto [least, most] = margins_of(hang);
    double within = 0.0;  // two standard deviations
    for (const std::array<double, 3>& sd : hang.margin_sd_mm) within = std::max({within, 2.0 * sd[0], 2.0 * sd[1], 2.0 * sd[2]});
    const std::string known = hang.margin_sd_mm.empty() ? "" : fmt::format(", each known to within {}", shown_misfit(within, plan.project));
    const std::string margins = fmt::format("margins run from {} to {}{}", shown(least, plan.project), shown(most, plan.project), known);
    std::string text;
    if (hang.taken) {
        text = fmt::format("True, level and plumb, {} the sill; {}.", letters_of(plan, hang.way_up.sill), margins);
    } else if (hang.fits) {
        text = fmt::format("Along the opening as found. Hung true {}; change it by \"hang is true\".", margins);
    } else {
        text = fmt::format("Along the opening as found. It cannot hang true: {}.", out_of_true_words(plan, hang));
    }
    if (!hang.levelled) text += " AB is taken as level: nothing was read against level.";
    return labelled("HANGS.", text + " Both answers beside each other: --more.", kVerdictColumns);
}

// "33 towards D and 8 out"; "" where it goes nowhere.
std::string way_words(const PegMove& peg, const Project& project) {
    std::vector<std::string> parts;
    const std::string along = shown(std::abs(peg.towards_mm), project), across = shown(std::abs(peg.out_mm), project);
    if (along != "0") parts.push_back(fmt::format("{} {} {}", along, peg.towards_mm > 0.0 ? "towards" : "away from", corner_letter(peg.string_to)));
    if (across != "0") parts.push_back(fmt::format("{} {}", across, peg.out_mm > 0.0 ? "out" : "in"));
    return and_list(parts);
}

std::string tapes_words(const PegMove& peg, std::size_t corner, const Project& project) {
    const auto tape = [&](std::size_t i) {
        return fmt::format("{} {}", pair_name(std::min(peg.from[i], corner), std::max(peg.from[i], corner)), shown(peg.from_mm[i], project));
    };
    return fmt::format("{} and {}", tape(0), tape(1));
}

Lines peg_lines(const Plan& plan) {
    if (!plan.pegs && plan.project.outline.pegs)
        return labelled("PEGS.",
                        "Which to move I cannot say yet: what was read between them does not hold together, see DECIDE. "
                        "Your boards are not touched by it.",
                        kVerdictColumns);
    if (!plan.pegs) return {};
    const PegMoves& moves = *plan.pegs;
    double within = 0.0;
    std::vector<std::string> standing, held;  // held: not where it belongs, and staying
    for (std::size_t c = 0; c < moves.pegs.size(); ++c) {
        within = std::max(within, moves.pegs[c].within_mm);
        const PegMove& peg = moves.pegs[c];
        if (peg.stays) (peg.off_mm <= peg.within_mm ? standing : held).push_back(corner_letter(c));
    }
    if (moves.moved == 0 && held.empty()) {
        return labelled("PEGS.", fmt::format("All stand right, to within {}.", shown_misfit(within, plan.project)), kVerdictColumns);
    }
    std::string text;
    std::size_t told = 0;
    for (std::size_t c = 0; c < moves.pegs.size() && told < kMostPegsTold; ++c) {
        const PegMove& peg = moves.pegs[c];
        if (peg.stays) continue;
        ++told;
        const std::string way = way_words(peg, plan.project);
        const bool one_way = way.find(" and ") == std::string::npos;
        text += fmt::format("Move {} {}{}; then {}. ", corner_letter(c), one_way ? "" : shown(peg.off_mm, plan.project) + ": ", way,
                            tapes_words(peg, c, plan.project));
    }
    if (moves.moved > told) text += fmt::format("{} more: --more. ", moves.moved - told);
    if (!standing.empty()) {
        text += fmt::format("{} stand{} right, to within {}. ", and_list(standing), standing.size() == 1 ? "s" : "",
                            shown_misfit(within, plan.project));
    }
    if (!held.empty()) text += fmt::format("{} stay{}, but not where {}. ", and_list(held), held.size() == 1 ? "s" : "", held.size() == 1 ? "it belongs" : "they belong");
    text.pop_back();
    return labelled("PEGS.", text, kVerdictColumns);
}

std::string side_words(HungSide::Lies lies) {
    switch (lies) {
        case HungSide::Lies::level:
            return "level";
        case HungSide::Lies::plumb:
            return "plumb";
        case HungSide::Lies::as_found:
            return "as found";
    }
    return "";
}

// Length and settings of one board in one answer.
std::pair<std::string, std::string> board_words(const HungBothWays::Answer& answer, std::size_t board, const Project& project) {
    if (!answer.frame) return {"-", "-"};
    const Board& b = answer.frame->boards[board];
    return {shown(answer.shown[board].long_point_mm, project),
            fmt::format("{} {}", show_setting(b.ends[0].saw_deg, project), show_setting(b.ends[1].saw_deg, project))};
}

}  // namespace

Lines question_lines(const Plan& plan) {
    Lines lines = hang_lines(plan);
    append_lines(lines, peg_lines(plan));
    return lines;
}

Table hang_table(const Plan& plan) {
    Table table{{"board", "side", "hangs", "margin", "out", "as found", "ends", "true", "ends", ""}, {}};
    if (!plan.hung || !plan.outline->hang) return table;
    const Project& project = plan.project;
    const Hang& hang = *plan.outline->hang;
    for (std::size_t k = 0; k < hang.sides.size(); ++k) {
        const HungSide& side = hang.sides[k];
        const auto found = board_words(plan.hung->as_found, k, project), straight = board_words(plan.hung->hung_true, k, project);
        table.rows.push_back({board_number(k), letters_of(plan, k), side_words(side.lies),
                              fmt::format("{} / {} / {}", shown(side.margin_mm[0], project), shown(side.margin_mm[1], project), shown(side.margin_mm[2], project)),
                              shown_misfit(std::abs(side.out_mm), project), found.first, found.second, straight.first, straight.second, ""});
    }
    return table;
}

Table pegs_table(const Plan& plan) {
    Table table{{"peg", "off", "right within", "if all share", "move", "then", ""}, {}};
    if (!plan.pegs) return table;
    const Project& project = plan.project;
    for (std::size_t c = 0; c < plan.pegs->pegs.size(); ++c) {
        const PegMove& peg = plan.pegs->pegs[c];
        table.rows.push_back({corner_letter(c), shown_misfit(peg.off_mm, project), shown_misfit(peg.within_mm, project),
                              shown_misfit(plan.pegs->shared_mm[c], project), peg.stays ? "stays" : way_words(peg, project),
                              peg.stays ? "" : tapes_words(peg, c, project), ""});
    }
    return table;
}

}  // namespace boardring
