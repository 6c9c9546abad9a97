// What a purchase asks to be decided before anybody drives to the yard.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "base/inch_units.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "base/pointer.hpp"
#include "outline/speaker.hpp"
#include "plan/buying_plan.hpp"
#include "stock/tidy.hpp"

namespace boardring {
namespace {

/// A piece this little longer than a board misses it nearly: boards are sold a few millimetres over or under their length.
constexpr double kNearMissMm = 10.0;

std::string piece_words(const BoughtPiece& name, const Project& project) {
    switch (name.what) {
        case BoughtPiece::What::board: return "board " + board_number(name.boards.front());
        case BoughtPiece::What::spare: return "a spare for board " + board_number(name.boards.front());
        case BoughtPiece::What::extra: return project.pieces[name.extra].name;
        case BoughtPiece::What::test: return "a test piece";
    }
    return "";
}

double long_point_of(const StripPiece& piece) {
    return piece.length_mm + (std::abs(piece.left_run_mm) + std::abs(piece.right_run_mm)) / 2.0;
}

// Boards that are not of their stock's section: on the list to be brought to size, or too large for it and not on the list.
void tell_other_sizes(const std::vector<const Project*>& projects, const SectionPurchase& purchase, Findings& findings) {
    const auto tell = [&](const BoughtPiece& name, bool larger) {
        const Project& project = *projects[name.frame];
        const BoardAsked& asked = project.boards[name.boards.front()];
        const Stock& stock = project.stock[*asked.stock];
        const LengthStyle style = project.style();
        const auto section = [&](double width_mm, double thickness_mm) {
            return fmt::format("{} x {}", show_length(width_mm, style), show_length(thickness_mm, style));
        };
        std::vector<std::string> numbers;
        for (const std::size_t board : name.boards) numbers.push_back(board_number(board));
        const bool one = numbers.size() == 1;
        const std::string who = fmt::format("{} {} {}", one ? "Board" : "Boards", listed(numbers, "and"), one ? "is" : "are");
        const std::string own = section(asked.width_mm, asked.thickness_mm), whole = section(stock.width_mm, stock.thickness_mm);
        if (larger) {
            findings.push_back({Severity::warning, "buy.other-size", asked.pointer,
                                fmt::format("{} to be {}, more than {} gives, which is {}: not on the list.", who, own, stock.name, whole),
                                "Measure again, or give it a stock of its own."});
        } else {
            findings.push_back({Severity::warning, "buy.other-size", asked.pointer,
                                fmt::format("{} to be {}, and {} is {}.", who, own, stock.name, whole),
                                fmt::format("On the list it is cut over-long: bring it to {} first, then saw its ends. If you have boards of that size, give "
                                            "them a stock of their own.", own)});
        }
    };
    for (const BoughtPiece& name : purchase.names) {
        if (name.rough && name.what == BoughtPiece::What::board) tell(name, false);
    }
    for (const BoughtPiece& name : purchase.too_large) {
        if (name.what == BoughtPiece::What::board) tell(name, true);
    }
}

// Where a piece too long for any board can be joined, so that every part comes from one; away from the middle, which bends most.
std::string joined_from(double length, double usable, const LengthStyle& style) {
    if (usable <= 0.0) return "give the lengths your yard has";
    const auto parts = static_cast<std::size_t>(std::ceil(length / usable));
    if (parts > 2) return fmt::format("join it from {} parts of {} or less, each joint over a support", parts, show_length_unit(usable, style));
    const double at = std::clamp(length / 3.0, length - usable, usable);
    return fmt::format("join it from two, {} from one end, over a support: both parts then fit, with {} to spare in the longer",
                       show_length_unit(at, style), show_length_unit(usable - std::max(at, length - at), style));
}

void tell_too_long(const Project& project, const SectionPurchase& purchase, Findings& findings) {
    const LengthStyle style = project.style();
    const Stock& stock = project.stock[purchase.stock];
    double longest_board = 0.0;
    for (const BarOffer& offer : purchase.section.offers) longest_board = std::max(longest_board, offer.length_mm);
    for (const std::size_t p : purchase.buy.too_long) {
        const BoughtPiece& name = purchase.names[p];
        const double length = long_point_of(purchase.section.pieces[p]);
        const bool only_the_trim = length <= longest_board + kFitMm;
        const double trim = 2.0 * purchase.section.end_trim_mm;
        findings.push_back(
            {Severity::warning, "buy.piece-too-long", "/stock" + pointer_step(stock.name) + "/lengths",
             fmt::format("{} is {} long and fits no board of {}: the longest gives {}{}", piece_words(name, project),
                         show_length_unit(length, style), stock.name, show_length_unit(purchase.buy.longest_usable_mm, style),
                         only_the_trim ? fmt::format(" once {} is trimmed off both ends", show_length_unit(trim, style)) : ""),
             only_the_trim ? fmt::format("look for a board of {} or more, or, if both its ends are sound, give \"end_trim\": 0",
                                         show_length_unit(length + trim, style))
                           : fmt::format("ask for {} or more, or {}", show_length_unit(length + trim, style),
                                         joined_from(length, purchase.buy.longest_usable_mm, style))});
    }
}

void tell_tight(const Project& project, const SectionPurchase& purchase, Findings& findings) {
    const LengthStyle style = project.style();
    const Stock& stock = project.stock[purchase.stock];
    for (const CutBar& bar : purchase.buy.bars) {
        const BarOffer& offer = purchase.section.offers[bar.offer];
        const double slack = usable_mm(purchase.section, offer) - bar.used_mm;
        if (slack >= kTightMm) continue;
        findings.push_back({Severity::caution, "buy.tight-board", "/stock" + pointer_step(stock.name) + "/lengths",
                            fmt::format("a board of {} is filled to its end: {} to spare", show_length_unit(offer.length_mm, style),
                                        show_small(std::max(0.0, slack), style)),
                            "measure the board before you buy it; if it is short, or one end is split, take the next length"});
        break;  // one word a section: the others read the same
    }
}

/// A board that gives nothing but test pieces need not be bought: scrap of the same section serves.
void tell_only_tests(const Project& project, const SectionPurchase& purchase, Findings& findings) {
    const LengthStyle style = project.style();
    const Stock& stock = project.stock[purchase.stock];
    const auto is_test = [&](const PlacedPiece& p) { return purchase.names[p.kind].what == BoughtPiece::What::test; };
    for (const CutBar& bar : purchase.buy.bars) {
        const BarOffer& offer = purchase.section.offers[bar.offer];
        if (offer.offcut || !std::all_of(bar.pieces.begin(), bar.pieces.end(), is_test)) continue;
        findings.push_back({Severity::note, "buy.only-tests", "/stock" + pointer_step(stock.name) + "/lengths",
                            fmt::format("a board of {} by {}, {} long, is on the list for nothing but {}", show_length(stock.width_mm, style),
                                        show_length(stock.thickness_mm, style), show_length_unit(offer.length_mm, style),
                                        bar.pieces.size() == 1 ? "a test piece" : "test pieces"),
                            fmt::format("if you have scrap of that section, {} of it, cut {} from that and buy one board less",
                                        show_length_unit(std::ceil(bar.used_mm / style.step_mm) * style.step_mm, style),
                                        bar.pieces.size() == 1 ? "the test piece" : "the test pieces")});
        break;  // one word a section
    }
}

void tell_short_rests(const Project& project, const SectionPurchase& purchase, Findings& findings) {
    const LengthStyle style = project.style();
    const Stock& stock = project.stock[purchase.stock];
    const double hold = project.tools.hold_length_mm;
    for (const CutBar& bar : purchase.buy.bars) {
        const BarOffer& offer = purchase.section.offers[bar.offer];
        const double piece = long_point_of(purchase.section.pieces[bar.pieces.back().kind]);
        const double rest = piece + bar.left_over_mm + (offer.offcut ? 0.0 : purchase.section.end_trim_mm);
        if (bar.pieces.size() < 2 || rest >= hold || piece + kFitMm >= hold) continue;
        findings.push_back({Severity::caution, "buy.short-rest", "/stock" + pointer_step(stock.name) + "/lengths",
                            fmt::format("the last cut of a board of {} is made on a rest of {}; you hold no less than {}",
                                        show_length_unit(offer.length_mm, style), show_length_unit(rest, style),
                                        show_length_unit(hold, style)),
                            "cut the short piece first, from the end of the whole board, or clamp the rest to a longer strip"});
        break;
    }
}

/// A board as long as its pieces by name may still be too short once ends are trimmed and saw cuts taken.
void tell_near_misses(const Project& project, const SectionPurchase& purchase, Findings& findings) {
    const bool inches = in_inches(project.unit);
    const LengthStyle style{project.unit, inches ? 25.4 / 64.0 : 0.1};  // finer than the rule: the point is a millimetre or two
    const Stock& stock = project.stock[purchase.stock];
    for (std::size_t p = 0; p < purchase.section.pieces.size(); ++p) {
        const double length = long_point_of(purchase.section.pieces[p]);
        for (const BarOffer& offer : purchase.section.offers) {
            const double usable = usable_mm(purchase.section, offer);
            const double lacks = length - usable;
            if (lacks <= kFitMm || length > offer.length_mm + kNearMissMm || purchase.buy.outcome == BuyingOutcome::too_long) continue;
            const bool trim_alone = length <= offer.length_mm + kFitMm;
            findings.push_back(
                {Severity::note, "buy.near-miss", "/stock" + pointer_step(stock.name) + "/lengths",
                 fmt::format("{} is {} long; a board of {} just misses it: {}", piece_words(purchase.names[p], project),
                             show_length_unit(length, style), show_length_unit(offer.length_mm, style),
                             trim_alone ? fmt::format("{} is left once {} is trimmed off each end", show_length_unit(usable, style),
                                                      show_length_unit(purchase.section.end_trim_mm, style))
                                        : fmt::format("it lacks {}", show_small(lacks, style))),
                 fmt::format("{}; or make the piece {} shorter",
                             trim_alone ? "if both ends of yours are sound, give \"end_trim\": 0"
                                        : "measure one, boards are often sold a little longer",
                             show_length_unit(std::ceil(lacks / style.step_mm - 1e-6) * style.step_mm, style))});
            return;  // one word a section
        }
    }
}

void tell_too_few(const Project& project, const SectionPurchase& purchase, Findings& findings) {
    if (purchase.buy.outcome != BuyingOutcome::too_few) return;
    const Stock& stock = project.stock[purchase.stock];
    double longest = 0.0;
    for (const BarOffer& offer : purchase.section.offers) longest = std::max(longest, offer.length_mm);
    findings.push_back({Severity::warning, "buy.too-few-boards", "/stock" + pointer_step(stock.name) + "/lengths",
                        fmt::format("the boards of {} you listed {} all pieces", stock.name,
                                    purchase.buy.too_few_proven ? "cannot hold" : "do not hold, as far as I looked,"),
                        fmt::format("get {} more of {}, or leave out \"count\" where the yard has enough", purchase.buy.bars_missing,
                                    show_length_unit(longest, project.style()))});
}

}  // namespace

Findings check_buying(const std::vector<const Project*>& projects, const Buying& buying) {
    Findings findings;
    for (const SectionPurchase& purchase : buying.sections) {
        const Project& project = *projects[purchase.frame];
        if (!purchase.section.offers.empty()) tell_other_sizes(projects, purchase, findings);
        tell_too_long(project, purchase, findings);
        tell_near_misses(project, purchase, findings);
        tell_too_few(project, purchase, findings);
        tell_tight(project, purchase, findings);
        tell_only_tests(project, purchase, findings);
        tell_short_rests(project, purchase, findings);
    }
    return findings;
}

}  // namespace boardring
