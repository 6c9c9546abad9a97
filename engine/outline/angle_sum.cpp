#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "base/names.hpp"
#include "outline/blame.hpp"
#include "outline/misfit.hpp"
#include "outline/speaker.hpp"
#include "outline/suspects.hpp"

namespace boardring {
namespace {

constexpr std::size_t kListed = 12;  // corners written out in a message
constexpr std::size_t kNamed = 3;    // rivals named in a message

std::string slip_sentence(Slip slip, const std::string& corner, const std::string& given, const std::string& would_be) {
    switch (slip) {
        case Slip::outside_ring:
            return fmt::format("{0} {1} is the angle outside the ring; inside it is {2}.", corner, given, would_be);
        case Slip::turn:
            return fmt::format("{0} {1} is what the boards turn; the corner itself would be {2}.", corner, given, would_be);
        case Slip::half:
            return fmt::format("{0} {1} is half the corner; the whole corner would be {2}.", corner, given, would_be);
        case Slip::saw:
            return fmt::format("{0} {1} is what the saw is set to; the corner itself would be {2}.", corner, given, would_be);
        case Slip::swapped:
            return fmt::format("{0} {1} has two digits in each other's place: {2} was meant.", corner, given, would_be);
    }
    return "";
}

// "measure straight across from B to D: 1184 mm means C is 97, 1228 mm means C is 102."
std::string across_sentence(const Notebook& book, const Speaker& say, const CornerSuspect& s, const std::string& otherwise) {
    const double now = across_corner_mm(book.chain, s.corner, book.chain.interior_deg[s.corner]);
    const double then = across_corner_mm(book.chain, s.corner, s.would_be_deg);
    return fmt::format("measure straight across {}: {} means {} is {}, {} means {}.", say.across(s.corner), say.mm(then),
                       corner_letter(s.corner), say.deg(s.would_be_deg), say.mm(now), otherwise);
}

double across_gain_mm(const Notebook& book, const CornerSuspect& s) {
    return std::abs(across_corner_mm(book.chain, s.corner, book.chain.interior_deg[s.corner]) -
                    across_corner_mm(book.chain, s.corner, s.would_be_deg));
}

std::string corner_is(const Speaker& say, const Notebook& book, std::size_t corner) {
    return fmt::format("{} is {}", corner_letter(corner), say.deg(book.chain.interior_deg[corner]));
}

// " BD, which you gave as 1184 mm, then comes to 1184 mm instead of 1228.5 mm.": a diagonal already in the notebook that takes
// sides.
std::string told_by_diagonal(const Notebook& book, const Speaker& say, const CornerSuspect& s) {
    Chain corrected = book.chain;
    corrected.interior_deg[s.corner] = s.would_be_deg;
    const std::vector<Vec2> as_given = walk(book.chain).corners_mm;
    const std::vector<Vec2> as_mended = walk(corrected).corners_mm;
    for (const std::size_t line : book.diagonal_lines) {
        const Reading& r = say.readings()[line];
        const double before = length(as_given[r.second] - as_given[r.first]);
        const double after = length(as_mended[r.second] - as_mended[r.first]);
        if (std::abs(after - *r.value) > 0.2 * std::abs(before - *r.value)) continue;
        return fmt::format(" {}, which you gave as {}, then comes to {} instead of {}.", pair_name(r.first, r.second),
                           say.mm(*r.value), say.mm(after), say.mm(before));
    }
    return "";
}

// `lead_at_most`: how far ahead of a wrong side the best corner is.
void say_corners(Finding& finding, const Notebook& book, const Speaker& say, const JudgedCorners& judged, double lead_at_most) {
    const CornerSuspect& best = judged.fitting.front();
    const std::string name = corner_letter(best.corner);
    const bool has_across = book.chain.sides() > 3;
    const double lead = std::min(lead_at_most, judged.fitting.size() > 1 ? judged.badness[1] - judged.badness[0] : kVeryLikely);
    std::vector<const CornerSuspect*> rivals;
    for (std::size_t i = 1; i < judged.fitting.size(); ++i) {
        if (judged.badness[i] - judged.badness[0] < kVeryLikely) rivals.push_back(&judged.fitting[i]);
    }
    const std::string meets =
        fmt::format("With {} the sides you gave {}", say.corner_at(best.corner, best.would_be_deg), say.meet(best.miss_mm));
    const std::string slip = best.slips.empty()
                                 ? ""
                                 : " " + slip_sentence(best.slips.front(), name, say.deg(book.chain.interior_deg[best.corner]),
                                                       say.deg(best.would_be_deg));
    if (lead >= kVeryLikely) {
        finding.pointer = say.angle_reading(best.corner).pointer;
        finding.message += fmt::format(" It is very likely {}. {}", name, meets);
        for (const CornerSuspect& next : judged.nearest) {
            if (next.corner == best.corner) continue;
            finding.message += fmt::format("; no other single corner brings them nearer than {} ({})", say.small_mm(next.miss_mm),
                                           say.corner_at(next.corner, next.would_be_deg));
            if (next.miss_mm < best.miss_mm) finding.message += ", but nothing explains that one";
            break;
        }
        finding.message += "." + slip;
        if (!best.slips.empty() && best.slips.front() == Slip::outside_ring) {
            // Across an inward corner a tape reads the same as across its mirror image: eyes decide.
            finding.fix = fmt::format("Look at {0}: if it points into the ring, write \"{0} {1} inward\", or {2}.", name,
                                      say.deg(book.chain.interior_deg[best.corner]), say.deg(best.would_be_deg));
            finding.changes = {fmt::format("{} inward", name)};
            if (say.angle_reading(best.corner).inward) {
                finding.fix = fmt::format("Look at {0}: if it points out of the ring, write \"{0} {1}\" without inward.", name,
                                          say.deg(best.would_be_deg));
                finding.changes = {fmt::format("{} is {} outward", name, say.deg(best.would_be_deg))};
            } else if (book.chain.interior_deg[best.corner] > 180.0) {
                finding.fix = fmt::format("Look at {0}: if it points out of the ring, write \"{0} {1}\".", name, say.deg(best.would_be_deg));
                finding.changes = {fmt::format("{} is {}", name, say.deg(best.would_be_deg))};
            }
            return;
        }
        finding.changes = {fmt::format("{} is {}", name, say.deg(best.would_be_deg))};
        if (const std::string told = told_by_diagonal(book, say, best); !told.empty()) {
            finding.message += told;
            finding.fix = fmt::format("Set {} to {}.", name, say.deg(best.would_be_deg));
            return;
        }
        finding.fix = has_across ? fmt::format("To be sure, {} Then set {}.",
                                               across_sentence(book, say, best, corner_is(say, book, best.corner)),
                                               fmt::format("{} to {}", name, say.deg(best.would_be_deg)))
                                 : fmt::format("Measure {} again; {} would close.", name, say.deg(best.would_be_deg));
        return;
    }
    std::vector<std::string> others;
    std::vector<std::string> letters{name};
    for (std::size_t i = 0; i < std::min(kNamed, rivals.size()); ++i) {
        others.push_back(fmt::format("with {} within {}", say.corner_at(rivals[i]->corner, rivals[i]->would_be_deg),
                                     say.small_mm(rivals[i]->miss_mm)));
        letters.push_back(corner_letter(rivals[i]->corner));
    }
    if (rivals.size() > kNamed) letters.push_back(one_of_others(rivals.size() - kNamed));
    if (rivals.empty() || lead >= kLikely) {
        if (lead >= kLikely) finding.pointer = say.angle_reading(best.corner).pointer;
        finding.message +=
            fmt::format(" {} it is {}. {}.{}", lead >= kLikely ? "Most likely" : "It may be that", name, meets, slip);
        if (!rivals.empty()) finding.message += fmt::format(" But {} they would do as well.", listed(others, "and"));
    } else {
        finding.message += fmt::format(" It could be {}: the sides cannot tell. {}, {}.{}", listed(letters, "or"), meets,
                                       listed(others, "and"), slip);
    }
    if (rivals.empty()) {
        finding.fix = has_across
                          ? fmt::format("To be sure, {}", across_sentence(book, say, best, corner_is(say, book, best.corner)))
                          : fmt::format("Measure {} again; {} would close.", name, say.deg(best.would_be_deg));
        return;
    }
    const CornerSuspect& rival = *rivals.front();
    if (!has_across) {
        finding.fix = fmt::format("Measure {} and {} again.", name, corner_letter(rival.corner));
        return;
    }
    // The one diagonal: across whichever of the two makes the larger difference.
    const bool across_best = across_gain_mm(book, best) >= across_gain_mm(book, rival);
    const CornerSuspect& asked = across_best ? best : rival;
    const CornerSuspect& other = across_best ? rival : best;
    finding.fix =
        fmt::format("To be sure, {}",
                    across_sentence(book, say, asked,
                                    rivals.size() > 1 ? fmt::format("{} and it is another", corner_is(say, book, asked.corner))
                                                      : fmt::format("{} and {} is {}", corner_is(say, book, asked.corner),
                                                                    corner_letter(other.corner), say.deg(other.would_be_deg))));
}

std::string all_corners_sentence(const AllCornersSuspect& all, double sum_deg, const Speaker& say) {
    switch (all.slip) {
        case Slip::turn:
            return fmt::format(" {} is what the turns of any ring add up to: these are what the boards turn, not the corners.",
                               say.deg(sum_deg));
        case Slip::half:
            return " That is half of it: these are half the corners.";
        case Slip::saw:
            return fmt::format(" {} is what the saw settings of equal boards add up to: these are settings, not corners.",
                               say.deg(sum_deg));
        case Slip::outside_ring:
            return " These are the angles outside the ring.";
        case Slip::swapped:
            break;
    }
    return "";
}

std::string all_corners_fix(Slip slip) {
    switch (slip) {
        case Slip::turn:
            return "Write each corner as 180 less what stands there now.";
        case Slip::half:
            return "Write each corner as twice what stands there now.";
        case Slip::saw:
            return "Write each corner as 180 less twice what stands there now.";
        case Slip::outside_ring:
            return "Write each corner as 360 less what stands there now.";
        case Slip::swapped:
            break;
    }
    return "";
}

// "five corners read to half a degree are together out by about 1, hardly ever by 4": root of n, and three times that. Said
// where someone might think so: ten times as much needs no such proof.
std::string careful_reading(std::size_t corners, double misfit_deg, double accuracy_deg) {
    const double together = std::sqrt(static_cast<double>(corners)) * accuracy_deg;
    const double hardly_ever = std::ceil(3.0 * together);
    if (std::abs(misfit_deg) < hardly_ever || std::abs(misfit_deg) > 10.0 * together) return "";
    std::string number = counted(corners);
    number.front() =
        static_cast<char>(number.front() >= 'A' && number.front() <= 'Z' ? number.front() - 'A' + 'a' : number.front());
    return fmt::format(
        " It is not a matter of careful reading: {} corners read to {} are together out by about {}, hardly ever by {}.", number,
        accuracy_deg == 0.5 ? "half a degree" : show_number(accuracy_deg, 2), show_number(together, together < 0.95 ? 1 : 0),
        show_number(hardly_ever, 0));
}

}  // namespace

Finding angle_sum_finding(const Notebook& given_book, const Project& project) {
    const Notebook book = as_measured(given_book, project);
    const Chain& given = book.chain;
    const std::size_t n = given.sides();
    const Speaker say(given_book, project);
    const double misfit_deg = angle_misfit_deg(given);
    const double expected_deg = (static_cast<double>(n) - 2.0) * 180.0;

    Finding finding{Severity::error, "outline.angle-sum", "/outline/readings", "", ""};
    finding.message =
        fmt::format("{} corners must add up to {}. Yours add up to {}: {} {}.", counted(n), say.deg(expected_deg),
                    say.deg(expected_deg + misfit_deg), say.deg(std::abs(misfit_deg)), misfit_deg > 0.0 ? "too much" : "short");
    if (n <= kListed) {
        std::vector<std::string> corners;
        for (std::size_t c = 0; c < n; ++c)
            corners.push_back(fmt::format("{} {}", corner_letter(c), say.deg(given.interior_deg[c])));
        finding.message += fmt::format(" They are {}.", listed(corners, "and"));
    }

    if (const std::optional<AllCornersSuspect> all = all_corners_suspect(given)) {
        finding.message += all_corners_sentence(*all, expected_deg + misfit_deg, say);
        finding.message += fmt::format(" Taken so, the sides you gave {}.", say.meet(all->miss_mm));
        finding.fix = all_corners_fix(all->slip);
        for (std::size_t c = 0; c < n && n <= kListed; ++c) {
            const std::string name = corner_letter(c);
            finding.changes.push_back(fmt::format("{} is {}", name, say.deg(corner_that_gives(all->slip, given.interior_deg[c], false))));
        }
        return finding;
    }
    const JudgedCorners judged = judge_corners(book, say.readings());
    const Weighed weighed = weigh(book, say.readings(), say.style());
    const bool sure = -weighed.side_lead >= kVeryLikely && !judged.fitting.empty() &&
                      (judged.fitting.size() == 1 || judged.badness[1] - judged.badness[0] >= kVeryLikely);
    if (!sure && closes_as_measured(given)) {
        say_within_accuracy(finding, given, project);
        return finding;
    }
    if (!judged.fitting.empty()) {
        say_corners(finding, book, say, judged, -weighed.side_lead);
        if (weighed.side && -weighed.side_lead < kVeryLikely) {
            finding.message += fmt::format(" Or the corners are only roughly read and it is side {}: with {} at {} they {}.",
                                           say.side(weighed.side->side), say.side(weighed.side->side),
                                           say.mm(weighed.side->would_be_mm), say.meet(weighed.side->miss_mm));
        }
    } else if (const std::optional<ExchangeSuspect> two = two_inward_suspect(given)) {
        const std::string both = fmt::format("{} and {}", corner_letter(two->first), corner_letter(two->second));
        finding.message += fmt::format(
            " It is very likely {}: both stand there as the angle outside the ring. With {} at {} and {} at {} the sides you "
            "gave {}.",
            both, corner_letter(two->first), say.deg(360.0 - given.interior_deg[two->first]), corner_letter(two->second),
            say.deg(360.0 - given.interior_deg[two->second]), say.meet(two->miss_mm));
        finding.fix = fmt::format("Put \"inward\" behind {}, or write 360 less what stands there.", both);
        for (const std::size_t corner : {two->first, two->second}) finding.changes.push_back(
                fmt::format("{} is {}", corner_letter(corner), say.deg(360.0 - given.interior_deg[corner])));
    } else {
        if (!judged.nearest.empty()) {
            const CornerSuspect& nearest = judged.nearest.front();
            finding.message +=
                fmt::format(" No single corner explains it: even {} leaves the sides {} apart. More than one reading is wrong.",
                            say.corner_at(nearest.corner, nearest.would_be_deg), say.small_mm(nearest.miss_mm));
        }
        finding.fix = "Measure each corner again, or measure one length straight across; I will then say which corner it is.";
    }
    finding.message += careful_reading(n, misfit_deg, project.accuracy.angle_deg);
    return finding;
}

}  // namespace boardring
