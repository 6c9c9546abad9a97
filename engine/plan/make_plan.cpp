#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/inch_units.hpp"
#include "base/pointer.hpp"
#include "base/quoted.hpp"
#include "cutlist/settings.hpp"
#include "plan/boards_alike.hpp"
#include "plan/hang_plan.hpp"
#include "plan/last_joint.hpp"
#include "plan/plan.hpp"
#include "plan/show.hpp"
#include "project/used_stock.hpp"

namespace boardring {
namespace {

constexpr double kWorthAnotherWay = 0.1;  // of the rings: a way of working that keeps the gap in so many more is worth a word

// A gap as a maker would feel for it: in inch jobs in 64ths, rounded up so that what is allowed is enough.
std::string gap_words(double mm, const LengthStyle& style) {
    constexpr double kPart = 25.4 / 64.0;
    const bool inches = in_inches(style.unit);
    if (!inches || mm < kPart) return show_small(mm, style);
    return show_length_unit(std::ceil(mm / kPart - 1e-6) * kPart, {Unit::inch, kPart});
}

// Advice that follows from numbers of several rooms.
void warn_of_the_last_joint(Plan& plan) {
    const Project& project = plan.project;
    const std::optional<SpreadClosure>& spread = plan.closure->set.spread;
    if (!spread || spread->widest_mm <= project.wanted.gap_mm) return;
    plan.findings.push_back(
        {Severity::warning, "closure.over-gap", "/tools",
         fmt::format("cut to the steps of your rule and saw the ring opens {} at {}; you want no more than {}",
                     gap_words(spread->widest_mm, project.style()), corner_letter(spread->corner),
                     gap_words(project.wanted.gap_mm, project.style())),
         "set the slopes with a bevel from a long base (\"slope_by\": \"bevel\"), use a finer step, or trim the last joint to fit"});
}

std::string what_to_do_about(const Plan& plan, const OpeningOdds& odds) {
    const LengthStyle style = plan.project.style();
    const Helps helps = what_helps(plan.project, plan.exact_frame(), plan.rounding->nudges);
    std::string fix = fmt::format("halve the error of {} (95 of 100 then stay under {})", source_words(helps.source.kind),
                                  show_small(helps.halved.most_mm, style));
    if (helps.way != plan.project.tools.slope_by && helps.by_way.within > odds.within + kWorthAnotherWay) {
        const char* way = helps.way == SlopeBy::bevel   ? "set the slopes with a bevel from a long base"
                          : helps.way == SlopeBy::marks ? "draw every slope between two marks"
                                                        : "set the slopes by the saw's scale";
        fix += fmt::format(", or {} ({:.0f} of 100)", way, 100.0 * helps.by_way.within);
    }
    return fix + fmt::format(", or allow a gap of {}: 95 of 100 keep that; more: boardring closure", gap_words(odds.most_mm, style));
}

// Fewer than half of the rings made with usual care keep the wanted gap: better to know before wood is bought.
void warn_of_the_odds(Plan& plan) {
    constexpr double kUnlikely = 0.5;
    if (!plan.budget || plan.budget->spread.within >= kUnlikely) return;
    if (plan.closure->set.spread && plan.closure->set.spread->widest_mm > plan.project.wanted.gap_mm) return;  // said already
    const LengthStyle style = plan.project.style();
    const OpeningOdds& odds = plan.budget->spread;
    plan.findings.push_back(
        {Severity::warning, "closure.gap-unlikely", "/wanted/gap",
         fmt::format("made with usual care {} of 100 such rings open {} or less; half of them open over {}",
                     odds.within < 0.01 ? "fewer than 1" : fmt::format("only about {:.0f}", 100.0 * odds.within),
                     gap_words(plan.project.wanted.gap_mm, style), show_small(odds.typical_mm, style)),
         what_to_do_about(plan, odds)});
}

void warn_of_soil(Plan& plan) {
    const Project& project = plan.project;
    if (!plan.totals->volume_l) return;
    const bool feet = in_inches(project.unit);
    const double tall_mm = feet ? 24.0 * 25.4 : 600.0;   // common practice: above this a soil wall is somebody's design work
    const double long_mm = feet ? 60.0 * 25.4 : 1500.0;  // common practice: ties over 1.2 to 1.5 m
    const LengthStyle style = project.style();
    if (plan.totals->height_mm > tall_mm) {
        plan.findings.push_back({Severity::caution, "care.soil-height", "/boards/courses",
                                 fmt::format("the sides stand {} high; soil behind more than {} pushes hard when wet",
                                             show_length_unit(plan.totals->height_mm, style), show_length_unit(tall_mm, style)),
                                 "ask an engineer or your building office before filling it"});
    }
    for (std::size_t k = 0; k < plan.shown.size(); ++k) {
        // What the soil leans on: at a butt the inside of a board may be longer or shorter.
        const double inside_mm = length(plan.frame->inside_mm[plan.outline->corner_after(k)] - plan.frame->inside_mm[k]);
        if (inside_mm <= long_mm) continue;
        plan.findings.push_back({Severity::caution, "care.long-side", project.boards[k].pointer,
                                 fmt::format("board {} is {} long inside; wet soil bows sides longer than about {}", board_number(k),
                                             show_length_unit(rounded_to_step(inside_mm, project.tools.rule_step_mm), style), show_length_unit(long_mm, style)),
                                 feet ? "tie it to the opposite board, or stake it, about every 4 ft" : "tie it to the opposite board, or stake it, about every 1.2 m"});
        break;  // one word is enough: the longest sides all read the same
    }
}

void warn_of_treated_wood(Plan& plan) {
    const std::vector<bool> used = used_stock(plan.project);
    for (std::size_t s = 0; s < plan.project.stock.size(); ++s) {
        const Stock& stock = plan.project.stock[s];
        if (!used[s] || stock.species.find("treated") == std::string::npos) continue;
        plan.findings.push_back({Severity::caution, "care.treated-wood", "/stock" + pointer_step(stock.name) + "/species",
                                 fmt::format("the boards called {} are {}", in_quotes(stock.name), in_quotes(stock.species)),
                                 "mask, goggles and gloves when sawing; brush preservative on cut ends; never burn the offcuts; ask your "
                                 "supplier before growing food beside it"});
    }
}

void buy_boards(Plan& plan, const Frame& frame) {
    BuyingLimits limits;
    limits.steps = kBuyingStepsOfPlan;
    plan.buying = plan_buying({{&plan.project, &frame, &*plan.cut_list}}, limits);
    append(plan.findings, check_buying({&plan.project}, *plan.buying));
}

// Pieces alone: nothing to close, but cuts to make and boards to buy.
void plan_pieces(Plan& plan) {
    const Frame no_frame;
    plan.cut_list = list_cuts(plan.project, no_frame);
    append(plan.findings, check_cuts(plan.project, no_frame));
    buy_boards(plan, no_frame);
    warn_of_treated_wood(plan);
}

// From here on the papers show what was chosen: the frame as it is set out. A saw's settings are grouped anew, since one angle may have
// gone two ways.
void set_out(Plan& plan) {
    if (!plan.rounding->applied) return;
    Frame set = frame_as_set(plan.project, *plan.frame, *plan.rounding);
    plan.unrounded = Unrounded{std::move(*plan.frame), std::move(plan.shown)};
    plan.frame = std::move(set);
    plan.shown = show_boards(plan.project, *plan.outline, *plan.frame, *plan.cut_list);
    if (plan.project.tools.slope_by == SlopeBy::saw) plan.cut_list->settings = group_settings(plan.project, *plan.frame);
}

void place_boards(Plan& plan) {
    plan.arrangement = arrange(plan.project, *plan.outline);
    plan.project.boards = boards_in_place(plan.project, plan.arrangement->places);
}

}  // namespace

Plan make_plan(const Project& asked) {
    Plan plan;
    plan.project = asked;
    const Project& project = plan.project;
    if (project.pieces_alone()) {
        plan_pieces(plan);
        return plan;
    }

    const Result<Outline> outline = locate_outline(project);
    append(plan.findings, outline.findings());
    if (!outline.ok()) return plan;
    plan.outline = outline.value();
    PegsResult pegs = place_pegs(project, *plan.outline);
    append(plan.findings, pegs.findings);
    plan.pegs = std::move(pegs.moves);

    if (!project.pile.empty()) place_boards(plan);
    const Result<Frame> frame = build_frame(project, *plan.outline);
    append(plan.findings, frame.findings());
    if (!frame.ok()) return plan;
    plan.frame = frame.value();

    plan.cut_list = list_cuts(project, *plan.frame);
    append(plan.findings, check_cuts(project, *plan.frame));
    plan.shown = show_boards(project, *plan.outline, *plan.frame, *plan.cut_list);
    plan.hung = hang_both_ways(project, *plan.outline);
    plan.assembly = plan_assembly(project, *plan.frame);
    plan.totals = total_up(project, *plan.outline, *plan.frame);
    plan.rounding = round_to_close(project, *plan.frame, boards_alike(*plan.cut_list, plan.frame->boards.size()));
    plan.closure = close_frame(project, *plan.frame, plan.rounding->nudges);
    SeasonResult season = move_with_the_year(project, *plan.frame);
    plan.season = std::move(season.season);
    append(plan.findings, season.findings);
    plan.budget = budget_last_joint(project, *plan.frame, plan.rounding->nudges);
    set_out(plan);

    buy_boards(plan, plan.exact_frame());
    warn_of_the_last_joint(plan);
    warn_of_the_odds(plan);
    warn_of_soil(plan);
    warn_of_treated_wood(plan);
    return plan;
}

}  // namespace boardring
