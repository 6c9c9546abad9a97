#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "base/names.hpp"
#include "outline/blame.hpp"
#include "outline/misfit.hpp"
#include "outline/speaker.hpp"
#include "outline/suspects.hpp"

namespace boardring {
namespace {

constexpr std::size_t kNamed = 3;  // rivals named in a message

// What often lies behind a side that is out by just this much; common practice.
std::string side_slip_sentence(SideSlip slip, bool too_long) {
    const auto tape = [&](const char* start) {
        return too_long ? fmt::format(" A tape held at {} and the {} not taken off does that.", start, start)
                        : fmt::format(" A tape held at {} and the {} taken off twice does that.", start, start);
    };
    switch (slip) {
        case SideSlip::hundred:
            return tape("100");
        case SideSlip::ten:
            return tape("10");
        case SideSlip::inch:
            return tape("1 in");
        case SideSlip::swapped:
            return " Two digits may stand in each other's place.";
        case SideSlip::factor_ten:
            return " There may be a nought too many or too few, or cm for mm.";
        case SideSlip::factor_inch:
            return " Inches may have been taken for millimetres, or the other way.";
        case SideSlip::factor_twelve:
            return " Inches may have been taken for feet, or the other way.";
        case SideSlip::outside_taken:
        case SideSlip::middle_taken:
        case SideSlip::none:
            break;
    }
    return "";
}

// "towards C" or "away from C", whichever corner lies nearest to the line of the miss.
std::string miss_direction(const Chain& balanced, Vec2 miss) {
    const std::vector<Vec2> corners_mm = walk(balanced).corners_mm;
    std::size_t best = 0;
    double sharpest = -1.0;
    for (std::size_t c = 1; c < corners_mm.size(); ++c) {
        const double distance = length(corners_mm[c]);
        if (!(distance > 0.0)) continue;
        const double along = std::abs(dot(miss, corners_mm[c])) / distance;
        if (along > sharpest) {
            sharpest = along;
            best = c;
        }
    }
    const bool towards = dot(miss, corners_mm[best]) > 0.0;
    return fmt::format("{} {}", towards ? "towards" : "away from", corner_letter(best));
}

std::string exchanged(const ExchangeSuspect& e, const Speaker& say) {
    return e.sides ? fmt::format("{} and {}", say.side(e.first), say.side(e.second))
                   : fmt::format("{} and {}", corner_letter(e.first), corner_letter(e.second));
}

// Sides that run the same way cannot be told apart; a usual slip speaks for one of them.
// `sure`: no corner explains it nearly as well.
void say_sides(Finding& finding, const Speaker& say, const Chain& balanced, const std::vector<SideSuspect>& fitting,
               std::vector<SideSuspect> all, bool sure) {
    const SideSuspect& best = fitting.front();
    const std::vector<Vec2> along = walk(balanced).along;
    bool same_way = true;
    std::vector<std::string> names{say.side(best.side)};
    const auto phrase = [&](const SideSuspect& s) { return fmt::format("{} is {}", say.side(s.side), show_length(s.would_be_mm, say.style())); };
    std::vector<std::string> said{phrase(best)};  // what boardring change takes
    std::vector<std::string> rivals;
    std::size_t unnamed = 0;
    for (std::size_t i = 1; i < fitting.size(); ++i) {
        if (badness(fitting[i]) - badness(best) >= kVeryLikely) continue;
        if (rivals.size() == kNamed) {
            ++unnamed;
            continue;
        }
        same_way = same_way && std::abs(cross(along[best.side], along[fitting[i].side])) < 0.2;
        names.push_back(say.side(fitting[i].side));
        said.push_back(phrase(fitting[i]));
        rivals.push_back(fmt::format("with {} at {}", names.back(), say.mm(fitting[i].would_be_mm)));
    }
    const std::string mends = fmt::format("With {} at {} instead of {} they {}", names.front(), say.mm(best.would_be_mm),
                                          say.mm(balanced.sides_mm[best.side]), say.meet(best.miss_mm));
    const bool one_slip = best.slip != SideSlip::none && std::count_if(fitting.begin(), fitting.end(), [](const SideSuspect& s) {
                                                             return s.slip != SideSlip::none;
                                                         }) == 1;
    if (rivals.empty()) {
        finding.pointer = say.side_reading(best.side).pointer;
        finding.message += fmt::format(" {} {}. {}", sure ? "It is very likely" : "Most likely it is", names.front(), mends);
        std::stable_sort(all.begin(), all.end(),
                         [](const SideSuspect& a, const SideSuspect& b) { return a.miss_mm < b.miss_mm; });
        for (const SideSuspect& next : all) {
            if (next.side == best.side) continue;
            finding.message += fmt::format("; no other single side brings them nearer than {} ({} at {})",
                                           say.small_mm(next.miss_mm), say.side(next.side), say.mm(next.would_be_mm));
            break;
        }
        finding.message += ".";
    } else {
        std::vector<std::string> could_be = names;
        if (unnamed > 0) could_be.push_back(one_of_others(unnamed));
        finding.message += fmt::format(
            " {} {}: {}. {}; {} they would do as well.", one_slip ? "It is one of" : "It could be", listed(could_be, "or"),
            same_way ? "they run nearly the same way" : "the corners are not known well enough to tell", mends,
            listed(rivals, "or"));
    }
    finding.message += side_slip_sentence(best.slip, best.would_be_mm < balanced.sides_mm[best.side]);
    if (rivals.empty()) {
        finding.fix = fmt::format("Measure {} again; {} would close.", names.front(), say.mm(best.would_be_mm));
    } else {
        // No command is certain to mend it, but either of these will, once the tape has said which.
        finding.fix = fmt::format("Measure {} again first, then {}. Change the one that was misread: \"{}\", or \"{}\".", names[0], names[1], said.at(0), said.at(1));
    }
    if (rivals.empty() && sure) finding.changes = {said.front()};
}

}  // namespace

bool sides_are_to_blame(const Notebook& book, const Project& project) {
    const Notebook measured = as_measured(book, project);
    if (closes_as_measured(measured.chain)) return false;  // nobody is
    return weigh(measured, std::get<ReadingsOutline>(project.outline.form).readings, project.style()).side_lead > 0.0;
}

Finding misclosure_finding(const Notebook& given_book, const Project& project, const Misclosure& miss) {
    const Notebook book = as_measured(given_book, project);
    const Speaker say(given_book, project);
    const Chain balanced = with_equal_shares(book.chain);

    Finding finding{Severity::error, "outline.misclosure", "/outline/readings", "", ""};
    const std::string corners =
        miss.angle_deg == 0.0 ? "The corners add up"
                              : fmt::format("The corners add up to {}, near enough to {}", show_number(miss.angle_sum_deg, 4),
                                            show_number(miss.angle_sum_expected_deg, 0));
    finding.message = fmt::format(
        "{}, but the sides do not meet: walked round from A, the last one ends {} from A, {} (one in {}).", corners,
        say.small_mm(miss.length_mm), miss_direction(balanced, {miss.dx_mm, miss.dy_mm}), show_number(miss.one_in, 0));

    const std::vector<SideSuspect> likeliest = side_suspects(balanced, say.style());
    const std::vector<ExchangeSuspect> exchanges = exchange_suspects(balanced);
    for (const bool exact_corners : {true, false}) {
        if (exact_corners && !corners_by_design(book.chain)) continue;
        const std::vector<SideSuspect> fitting =
            fitting_sides(exact_corners ? with_exact_corners(balanced) : balanced, say.style());
        if (fitting.empty()) continue;
        if (!exact_corners && fitting.size() > 1 && closes_as_measured(book.chain)) {
            say_within_accuracy(finding, book.chain, project);
            return finding;
        }
        const Weighed weighed = weigh(book, say.readings(), say.style());
        const bool sure = exact_corners || weighed.side_lead >= kVeryLikely;
        say_sides(finding, say, balanced, fitting, likeliest, sure);
        if (!sure && weighed.corner) {
            finding.message += fmt::format(" Or it is corner {}: with {} they {}.", corner_letter(weighed.corner->corner),
                                           say.corner_at(weighed.corner->corner, weighed.corner->would_be_deg),
                                           say.meet(weighed.corner->miss_mm));
        }
        if (!exchanges.empty() && exchanges.front().miss_mm < fitting.front().miss_mm / 3.0) {
            finding.message += fmt::format(" With {} exchanged they {}.", exchanged(exchanges.front(), say),
                                           say.meet(exchanges.front().miss_mm));
        }
        return finding;
    }
    if (!exchanges.empty()) {
        const std::string both = exchanged(exchanges.front(), say);
        finding.message += fmt::format(" No single side explains it, but with {} exchanged the sides {}.", both,
                                       say.meet(exchanges.front().miss_mm));
        finding.fix = fmt::format("Look whether {} stand in each other's place.", both);
        return finding;
    }
    if (!likeliest.empty()) {
        finding.message += fmt::format(" No single side explains it: even {} at {} leaves {}.", say.side(likeliest.front().side),
                                       say.mm(likeliest.front().would_be_mm), say.small_mm(likeliest.front().miss_mm));
    }
    finding.fix = fmt::format(
        "More than one reading is wrong, or two corners are wrong by opposite amounts. Measure one length straight across, for "
        "example {}.",
        say.across(book.chain.sides() > 3 ? 1 : 0));
    return finding;
}

}  // namespace boardring
