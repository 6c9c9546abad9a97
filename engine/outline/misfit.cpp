#include "outline/misfit.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "base/angle.hpp"
#include "base/length_text.hpp"
#include "base/names.hpp"
#include "base/quoted.hpp"
#include "outline/suspects.hpp"

namespace boardring {
namespace {

constexpr double kSilentMm = 1e-6;     // smaller corrections are rounding, not news
constexpr double kSilentDeg = 1e-9;
constexpr std::size_t kAllDetailed = 60;  // rings in which every suspect is looked at closely; beyond, the nearest few
constexpr std::size_t kDetailed = 6;
constexpr std::size_t kNamed = 3;      // suspects named in one message
constexpr std::size_t kListed = 12;    // corners written out in a message

// How much better than the next the best must fit, in squared misses over squared noise: e^4.6 = 100 to 1, e^1.2 = 3 to 1.
constexpr double kVeryLikely = 4.6;
constexpr double kLikely = 1.2;
constexpr double kSlipCounts = 4.0;    // a slip that gives the very number counts like 55 to 1

// Who speaks to whom: readings, names and the maker's units in one place.
class Speaker {
public:
    Speaker(const Notebook& book, const Project& project)
        : book_(book), readings_(std::get<ReadingsOutline>(project.outline.form).readings), style_(project.style()) {
        double finest = 0.5;
        for (const double within : book.chain.angle_within_deg) {
            if (within > 0.0) finest = std::min(finest, within);
        }
        while (decimals_ < 4 && finest < 0.5 * std::pow(10.0, -decimals_)) ++decimals_;
    }

    [[nodiscard]] std::string deg(double value) const { return show_number(value, decimals_); }
    /// A small angle with two digits that count.
    [[nodiscard]] static std::string small_deg(double value) {
        const double size = std::abs(value);
        int decimals = 1;
        while (decimals < 8 && size < 0.95 * std::pow(10.0, 1 - decimals)) ++decimals;
        return show_number(value, decimals);
    }
    /// A length that was given or would be: to the rule's step, or finer where it was given finer.
    [[nodiscard]] std::string mm(double value) const { return show_length_unit(value, style_); }
    [[nodiscard]] std::string small_mm(double value) const { return show_small(value, style_); }
    [[nodiscard]] std::string side(std::size_t k) const { return side_name(book_.chain, k); }
    [[nodiscard]] const Reading& side_reading(std::size_t k) const { return readings_[book_.side_line[k]]; }
    [[nodiscard]] const Reading& angle_reading(std::size_t c) const { return readings_[book_.angle_line[c]]; }
    [[nodiscard]] const std::vector<Reading>& readings() const { return readings_; }
    [[nodiscard]] const LengthStyle& style() const { return style_; }

    [[nodiscard]] std::string pair_across(std::size_t corner) const {
        const std::size_t n = book_.chain.sides();
        const std::size_t a = corner == 0 ? n - 1 : corner - 1;
        const std::size_t b = corner + 1 == n ? 0 : corner + 1;
        return fmt::format("from {} to {}", corner_letter(std::min(a, b)), corner_letter(std::max(a, b)));
    }

private:
    const Notebook& book_;
    const std::vector<Reading>& readings_;
    LengthStyle style_;
    int decimals_ = 1;
};

// How sure a suspect is depends on how well the maker measures, not on how many digits were written: each value is taken to be out by its
// own +-, else by the job's accuracy, never by less than its digits.
Notebook as_measured(const Notebook& book, const Project& project) {
    const std::vector<Reading>& readings = std::get<ReadingsOutline>(project.outline.form).readings;
    Notebook measured = book;
    for (std::size_t k = 0; k < book.chain.sides(); ++k) {
        if (!readings[book.side_line[k]].accuracy) {
            measured.chain.side_within_mm[k] = std::max(book.chain.side_within_mm[k], project.accuracy.side_mm);
        }
        if (!readings[book.angle_line[k]].accuracy) {
            measured.chain.angle_within_deg[k] = std::max(book.chain.angle_within_deg[k], project.accuracy.angle_deg);
        }
    }
    return measured;
}

// Corners all written as multiples of 15 are a design, not readings: 90 means square. By chance that happens to n whole degrees
// once in 15^n.
bool corners_by_design(const Chain& chain) {
    return std::all_of(chain.interior_deg.begin(), chain.interior_deg.end(), [](double i) { return std::remainder(i, 15.0) == 0.0; });
}

std::string counted(std::size_t number) {
    constexpr std::array<const char*, 13> words{"No",  "One",   "Two",   "Three", "Four", "Five",  "Six",
                                                "Seven", "Eight", "Nine", "Ten",   "Eleven", "Twelve"};
    return number < words.size() ? words[number] : std::to_string(number);
}

// "meet within 0.5 mm", or "meet".
std::string meet(const Speaker& say, double miss_mm) {
    return miss_mm < kSilentMm ? std::string("meet") : "meet within " + say.small_mm(miss_mm);
}

std::string listed(const std::vector<std::string>& items, const char* last_word) {
    std::string text;
    for (std::size_t i = 0; i < items.size(); ++i) {
        if (i > 0) text += i + 1 == items.size() ? fmt::format(" {} ", last_word) : std::string(", ");
        text += items[i];
    }
    return text;
}

// ---- angle sum ----

std::string slip_sentence(Slip slip, const std::string& corner, const std::string& given, const std::string& would_be) {
    switch (slip) {
        case Slip::outside_ring: return fmt::format("{0} {1} is the angle outside the ring; inside it is {2}.", corner, given, would_be);
        case Slip::turn: return fmt::format("{0} {1} is what the boards turn; the corner itself would be {2}.", corner, given, would_be);
        case Slip::half: return fmt::format("{0} {1} is half the corner; the whole corner would be {2}.", corner, given, would_be);
        case Slip::saw: return fmt::format("{0} {1} is what the saw is set to; the corner itself would be {2}.", corner, given, would_be);
        case Slip::swapped: return fmt::format("{0} {1} has two digits in each other's place: {2} was meant.", corner, given, would_be);
        case Slip::none:
        case Slip::hundred:
        case Slip::ten:
        case Slip::inch:
        case Slip::factor_ten:
        case Slip::factor_inch:
        case Slip::factor_twelve: break;
    }
    return "";
}

std::string at_corner(const Speaker& say, const CornerSuspect& s) {
    return fmt::format("{} at {}", corner_letter(s.corner), say.deg(s.would_be_deg));
}

// How badly a suspect fits: squared miss over squared noise; diagonals in the notebook count, and so does an exact slip.
double badness(const Notebook& book, const Speaker& say, const CornerSuspect& s) {
    double value = s.noise_mm > 0.0 ? (s.miss_mm / s.noise_mm) * (s.miss_mm / s.noise_mm) : 0.0;
    if (s.slip_exact) value -= kSlipCounts;
    if (!book.diagonal_lines.empty()) {
        Chain corrected = book.chain;
        corrected.interior_deg[s.corner] = s.would_be_deg;
        const std::vector<Vec2> corners_mm = walk(corrected).corners_mm;
        for (const std::size_t line : book.diagonal_lines) {
            const Reading& r = say.readings()[line];
            const double off = length(corners_mm[r.second] - corners_mm[r.first]) - *r.value;
            const double noise = std::hypot(r.accuracy.value_or(r.half_step), s.noise_mm);
            if (noise > 0.0) value += std::min(25.0, (off / noise) * (off / noise));
        }
    }
    return value;
}

struct Judged {
    std::vector<CornerSuspect> fitting;   ///< best first
    std::vector<double> badness;          ///< of those
    std::vector<CornerSuspect> nearest;   ///< all, nearest to meeting first
};

Judged judge_corners(const Notebook& book, const Speaker& say) {
    Judged judged;
    const std::size_t detailed = book.chain.sides() <= kAllDetailed ? book.chain.sides() : kDetailed;
    judged.nearest = corner_suspects(book, say.readings(), detailed);
    std::vector<std::pair<double, std::size_t>> order;
    for (std::size_t i = 0; i < std::min(detailed, judged.nearest.size()); ++i) {
        if (judged.nearest[i].fits()) order.emplace_back(badness(book, say, judged.nearest[i]), i);
    }
    std::stable_sort(order.begin(), order.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (const auto& [bad, i] : order) {
        judged.fitting.push_back(judged.nearest[i]);
        judged.badness.push_back(bad);
    }
    return judged;
}

// "measure straight across from B to D: 1184 mm means C is 97, 1228 mm means C is 102."
std::string across_sentence(const Notebook& book, const Speaker& say, const CornerSuspect& s, const std::string& otherwise) {
    const double now = across_corner_mm(book.chain, s.corner, book.chain.interior_deg[s.corner]);
    const double then = across_corner_mm(book.chain, s.corner, s.would_be_deg);
    return fmt::format("measure straight across {}: {} means {} is {}, {} means {}.", say.pair_across(s.corner), say.mm(then),
                       corner_letter(s.corner), say.deg(s.would_be_deg), say.mm(now), otherwise);
}

double across_gain_mm(const Notebook& book, const CornerSuspect& s) {
    return std::abs(across_corner_mm(book.chain, s.corner, book.chain.interior_deg[s.corner]) -
                    across_corner_mm(book.chain, s.corner, s.would_be_deg));
}

std::string corner_is(const Speaker& say, const Notebook& book, std::size_t corner) {
    return fmt::format("{} is {}", corner_letter(corner), say.deg(book.chain.interior_deg[corner]));
}

// " BD, which you gave as 1184 mm, then comes to 1184 mm instead of 1228.5 mm.": a diagonal already in the notebook that takes sides.
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
        return fmt::format(" {}, which you gave as {}, then comes to {} instead of {}.", pair_name(r.first, r.second), say.mm(*r.value), say.mm(after), say.mm(before));
    }
    return "";
}

void say_corners(Finding& finding, const Notebook& book, const Speaker& say, const Judged& judged) {
    const CornerSuspect& best = judged.fitting.front();
    const std::string name = corner_letter(best.corner);
    const bool has_across = book.chain.sides() > 3;
    const double lead = judged.fitting.size() > 1 ? judged.badness[1] - judged.badness[0] : kVeryLikely;
    std::vector<const CornerSuspect*> rivals;
    for (std::size_t i = 1; i < judged.fitting.size(); ++i) {
        if (judged.badness[i] - judged.badness[0] < kVeryLikely) rivals.push_back(&judged.fitting[i]);
    }
    const std::string meets = fmt::format("With {} the sides you gave {}", at_corner(say, best), meet(say, best.miss_mm));
    const std::string slip = best.slips.empty() ? ""
                                                : " " + slip_sentence(best.slips.front(), name, say.deg(book.chain.interior_deg[best.corner]),
                                                                      say.deg(best.would_be_deg));
    if (lead >= kVeryLikely) {
        finding.pointer = say.angle_reading(best.corner).pointer;
        finding.message += fmt::format(" It is very likely {}. {}", name, meets);
        for (const CornerSuspect& next : judged.nearest) {
            if (next.corner == best.corner) continue;
            finding.message += fmt::format("; no other single corner brings them nearer than {} ({})", say.small_mm(next.miss_mm), at_corner(say, next));
            if (next.miss_mm < best.miss_mm) finding.message += ", but nothing explains that one";
            break;
        }
        finding.message += "." + slip;
        if (!best.slips.empty() && best.slips.front() == Slip::outside_ring) {
            // Across an inward corner a tape reads the same as across its mirror image: eyes decide.
            finding.fix = fmt::format("Look at {0}: if it points into the ring, write \"{0} {1} inward\", or {2}.", name,
                                      say.deg(book.chain.interior_deg[best.corner]), say.deg(best.would_be_deg));
            if (say.angle_reading(best.corner).inward) {
                finding.fix = fmt::format("Look at {0}: if it points out of the ring, write \"{0} {1}\" without inward.", name, say.deg(best.would_be_deg));
            }
            return;
        }
        if (const std::string told = told_by_diagonal(book, say, best); !told.empty()) {
            finding.message += told;
            finding.fix = fmt::format("Set {} to {}.", name, say.deg(best.would_be_deg));
            return;
        }
        finding.fix = has_across ? fmt::format("To be sure, {} Then set {}.", across_sentence(book, say, best, corner_is(say, book, best.corner)),
                                               fmt::format("{} to {}", name, say.deg(best.would_be_deg)))
                                 : fmt::format("Measure {} again; {} would close.", name, say.deg(best.would_be_deg));
        return;
    }
    std::vector<std::string> others;
    std::vector<std::string> letters{name};
    for (std::size_t i = 0; i < std::min(kNamed, rivals.size()); ++i) {
        others.push_back(fmt::format("with {} within {}", at_corner(say, *rivals[i]), say.small_mm(rivals[i]->miss_mm)));
        letters.push_back(corner_letter(rivals[i]->corner));
    }
    if (rivals.size() > kNamed) letters.push_back(fmt::format("one of {} others", rivals.size() - kNamed));
    if (lead >= kLikely) {
        finding.pointer = say.angle_reading(best.corner).pointer;
        finding.message += fmt::format(" Most likely it is {}. {}.{} But {} they would do as well.", name, meets, slip, listed(others, "and"));
    } else {
        finding.message += fmt::format(" It could be {}: the sides cannot tell. {}, {}.{}", listed(letters, "or"), meets, listed(others, "and"), slip);
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
    finding.fix = fmt::format("To be sure, {}",
                              across_sentence(book, say, asked, rivals.size() > 1 ? fmt::format("{} and it is another", corner_is(say, book, asked.corner))
                                                                       : fmt::format("{} and {} is {}", corner_is(say, book, asked.corner),
                                                                                     corner_letter(other.corner), say.deg(other.would_be_deg))));
}

std::string all_corners_sentence(const AllCornersSuspect& all, double sum_deg, const Speaker& say) {
    switch (all.slip) {
        case Slip::turn:
            return fmt::format(" {} is what the turns of any ring add up to: these are what the boards turn, not the corners.", say.deg(sum_deg));
        case Slip::half: return " That is half of it: these are half the corners.";
        case Slip::saw: return fmt::format(" {} is what the saw settings of equal boards add up to: these are settings, not corners.", say.deg(sum_deg));
        case Slip::outside_ring: return " These are the angles outside the ring.";
        case Slip::none:
        case Slip::swapped:
        case Slip::hundred:
        case Slip::ten:
        case Slip::inch:
        case Slip::factor_ten:
        case Slip::factor_inch:
        case Slip::factor_twelve: break;
    }
    return "";
}

std::string all_corners_fix(Slip slip) {
    switch (slip) {
        case Slip::turn: return "Write each corner as 180 less what stands there now.";
        case Slip::half: return "Write each corner as twice what stands there now.";
        case Slip::saw: return "Write each corner as 180 less twice what stands there now.";
        case Slip::outside_ring: return "Write each corner as 360 less what stands there now, or put \"inward\" behind it.";
        case Slip::none:
        case Slip::swapped:
        case Slip::hundred:
        case Slip::ten:
        case Slip::inch:
        case Slip::factor_ten:
        case Slip::factor_inch:
        case Slip::factor_twelve: break;
    }
    return "";
}

// "five corners read to half a degree are together out by about 1, hardly ever by 4": root of n, and three times that.
std::string careful_reading(std::size_t corners, double misfit_deg, double accuracy_deg) {
    const double together = std::sqrt(static_cast<double>(corners)) * accuracy_deg;
    const double hardly_ever = std::ceil(3.0 * together);
    if (!(together > 0.0) || std::abs(misfit_deg) < hardly_ever) return "";
    std::string number = counted(corners);
    number.front() = static_cast<char>(number.front() >= 'A' && number.front() <= 'Z' ? number.front() - 'A' + 'a' : number.front());
    return fmt::format(" It is not a matter of careful reading: {} corners read to {} are together out by about {}, hardly ever by {}.", number,
                       accuracy_deg == 0.5 ? "half a degree" : show_number(accuracy_deg, 2), show_number(together, together < 0.95 ? 1 : 0), show_number(hardly_ever, 0));
}

// ---- sides ----

// What often lies behind a side that is out by just this much; common practice.
std::string side_slip_sentence(Slip slip, bool too_long) {
    const auto tape = [&](const char* start) {
        return too_long ? fmt::format(" A tape held at {} and the {} not taken off does that.", start, start)
                        : fmt::format(" A tape held at {} and the {} taken off twice does that.", start, start);
    };
    switch (slip) {
        case Slip::hundred: return tape("100");
        case Slip::ten: return tape("10");
        case Slip::inch: return tape("1 in");
        case Slip::swapped: return " Two digits may stand in each other's place.";
        case Slip::factor_ten: return " There may be a nought too many or too few, or cm for mm.";
        case Slip::factor_inch: return " Inches may have been taken for millimetres, or the other way.";
        case Slip::factor_twelve: return " Inches may have been taken for feet, or the other way.";
        case Slip::none:
        case Slip::outside_ring:
        case Slip::turn:
        case Slip::half:
        case Slip::saw: break;
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
    return e.sides ? fmt::format("{} and {}", say.side(e.first), say.side(e.second)) : fmt::format("{} and {}", corner_letter(e.first), corner_letter(e.second));
}

// Beyond the digits, yet no more than the job's accuracy leaves: then nobody needs to be wrong, and saying how well it was measured is the way on.
bool within_accuracy(Finding& finding, const Notebook& measured, const Project& project) {
    if (corners_by_design(measured.chain) || !spread_within_digits(measured.chain)) return false;
    const std::string angle = show_number(project.accuracy.angle_deg, 2);
    finding.message += fmt::format(" That is more than the digits you gave leave room for, but no more than careful readings are out by: with each corner within {} "
                                   "and each side within {} of what you gave, the ring closes.", angle, show_small(project.accuracy.side_mm, project.style()));
    const std::size_t first = 1;
    finding.fix = fmt::format("If that is how well you measured, say so behind the readings, like \"{} {} +-{}\"; I will then spread the rest.", corner_letter(first),
                              show_number(measured.chain.interior_deg[first], 2), angle);
    return true;
}

Chain corners_exact(Chain chain) {
    chain.angle_within_deg.assign(chain.angle_within_deg.size(), 0.0);
    return chain;
}

std::vector<SideSuspect> fitting_sides(const std::vector<SideSuspect>& nearest, double noise_mm) {
    std::vector<SideSuspect> fitting;
    for (const SideSuspect& s : nearest) {
        if (s.miss_mm <= 3.0 * noise_mm) fitting.push_back(s);
    }
    return fitting;
}

// Sides that run the same way cannot be told apart; a usual slip speaks for one of them.
void say_sides(Finding& finding, const Speaker& say, const Chain& balanced, std::vector<SideSuspect> fitting, const std::vector<SideSuspect>& nearest,
               double noise_mm) {
    std::stable_partition(fitting.begin(), fitting.end(), [](const SideSuspect& s) { return s.slip != Slip::none; });
    const SideSuspect& best = fitting.front();
    const std::vector<Vec2> along = walk(balanced).along;
    bool same_way = true;
    std::vector<std::string> names{say.side(best.side)};
    std::vector<std::string> rivals;
    for (std::size_t i = 1; i < fitting.size() && rivals.size() < 3; ++i) {
        const double lead = noise_mm > 0.0 ? (fitting[i].miss_mm * fitting[i].miss_mm - best.miss_mm * best.miss_mm) / (noise_mm * noise_mm) : 0.0;
        if (lead >= kVeryLikely) continue;
        same_way = same_way && std::abs(cross(along[best.side], along[fitting[i].side])) < 0.2;
        names.push_back(say.side(fitting[i].side));
        rivals.push_back(fmt::format("with {} at {}", names.back(), say.mm(fitting[i].would_be_mm)));
    }
    const std::string mends = fmt::format("With {} at {} instead of {} they {}", names.front(), say.mm(best.would_be_mm), say.mm(balanced.sides_mm[best.side]),
                                          meet(say, best.miss_mm));
    const bool one_slip = best.slip != Slip::none && std::count_if(fitting.begin(), fitting.end(), [](const SideSuspect& s) { return s.slip != Slip::none; }) == 1;
    if (rivals.empty()) {
        finding.pointer = say.side_reading(best.side).pointer;
        finding.message += fmt::format(" It is very likely {}. {}", names.front(), mends);
        for (const SideSuspect& next : nearest) {
            if (next.side == best.side) continue;
            finding.message += fmt::format("; no other single side brings them nearer than {} ({} at {})", say.small_mm(next.miss_mm), say.side(next.side),
                                           say.mm(next.would_be_mm));
            break;
        }
        finding.message += ".";
    } else {
        finding.message += fmt::format(" {} {}: {}. {}; {} they would do as well.", one_slip ? "It is one of" : "It could be", listed(names, "or"),
                                       same_way ? "they run nearly the same way" : "the corners are not known well enough to tell", mends, listed(rivals, "or"));
    }
    finding.message += side_slip_sentence(best.slip, best.would_be_mm < balanced.sides_mm[best.side]);
    finding.fix = fmt::format("Measure {} again{}; {} would close.", names.front(), rivals.empty() ? "" : fmt::format(" first, then {}", names[1]),
                              say.mm(best.would_be_mm));
}

// Corners of a design were bent to make the sides meet: allowed by their digits, hardly meant.
void mean_it_exactly(Finding& finding, const Chain& measured, const Speaker& say) {
    const Chain exact = corners_exact(measured);
    const std::vector<SideSuspect> fitting = fitting_sides(side_suspects(exact, say.style()), closing_noise_mm(exact));
    std::vector<std::string> mends;
    for (std::size_t i = 0; i < std::min(kNamed, fitting.size()); ++i) {
        mends.push_back(fmt::format("{} would be {}", say.side(fitting[i].side), say.mm(fitting[i].would_be_mm)));
    }
    finding.message += " If you mean the corners exactly as written, ";
    finding.message += mends.empty() ? std::string("the sides do not meet.") : fmt::format("{}.", listed(mends, "or"));
    finding.fix = mends.empty() ? std::string("Measure the sides again, or give the corners with one digit more.")
                                : fmt::format("Measure {} again, or give the corners with one digit more.", say.side(fitting.front().side));
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
    finding.message = fmt::format("{} corners must add up to {}. Yours add up to {}: {} {}.", counted(n), say.deg(expected_deg),
                                  say.deg(expected_deg + misfit_deg), say.deg(std::abs(misfit_deg)), misfit_deg > 0.0 ? "too much" : "short");
    if (n <= kListed) {
        std::vector<std::string> corners;
        for (std::size_t c = 0; c < n; ++c) corners.push_back(fmt::format("{} {}", corner_letter(c), say.deg(given.interior_deg[c])));
        finding.message += fmt::format(" They are {}.", listed(corners, "and"));
    }

    if (const std::optional<AllCornersSuspect> all = all_corners_suspect(given)) {
        finding.message += all_corners_sentence(*all, expected_deg + misfit_deg, say);
        finding.message += fmt::format(" Taken so, the sides you gave {}.", meet(say, all->miss_mm));
        finding.fix = all_corners_fix(all->slip);
        return finding;
    }
    const Judged judged = judge_corners(book, say);
    const bool sure = !judged.fitting.empty() && (judged.fitting.size() == 1 || judged.badness[1] - judged.badness[0] >= kVeryLikely);
    if (!sure && within_accuracy(finding, book, project)) return finding;
    if (!judged.fitting.empty()) {
        say_corners(finding, book, say, judged);
    } else if (const std::optional<ExchangeSuspect> two = two_inward_suspect(given)) {
        const std::string both = fmt::format("{} and {}", corner_letter(two->first), corner_letter(two->second));
        finding.message += fmt::format(" It is very likely {}: both stand there as the angle outside the ring. With {} at {} and {} at {} the sides you gave {}.",
                                       both, corner_letter(two->first), say.deg(360.0 - given.interior_deg[two->first]), corner_letter(two->second),
                                       say.deg(360.0 - given.interior_deg[two->second]), meet(say, two->miss_mm));
        finding.fix = fmt::format("Put \"inward\" behind {}, or write 360 less what stands there.", both);
    } else {
        if (!judged.nearest.empty()) {
            const CornerSuspect& nearest = judged.nearest.front();
            finding.message += fmt::format(" No single corner explains it: even {} leaves the sides {} apart. More than one reading is wrong.",
                                           at_corner(say, nearest), say.small_mm(nearest.miss_mm));
        }
        finding.fix = "Measure each corner again, or measure one length straight across; I will then say which corner it is.";
    }
    finding.message += careful_reading(n, misfit_deg, project.accuracy.angle_deg);
    return finding;
}

Finding misclosure_finding(const Notebook& given_book, const Project& project, const Misclosure& miss) {
    const Notebook book = as_measured(given_book, project);
    const Speaker say(given_book, project);
    Chain balanced = book.chain;
    for (double& interior : balanced.interior_deg) interior -= miss.angle_deg / static_cast<double>(balanced.sides());

    Finding finding{Severity::error, "outline.misclosure", "/outline/readings", "", ""};
    finding.message = fmt::format("The corners add up, but the sides do not meet: walked round from A, the last one ends {} from A, {} (one in {}).",
                                  say.small_mm(miss.length_mm), miss_direction(balanced, {miss.dx_mm, miss.dy_mm}), show_number(miss.one_in, 0));

    const std::vector<SideSuspect> nearest = side_suspects(balanced, say.style());
    const std::vector<ExchangeSuspect> exchanges = exchange_suspects(balanced);
    for (const bool exact_corners : {true, false}) {
        if (exact_corners && !corners_by_design(book.chain)) continue;
        const double noise = exact_corners ? closing_noise_mm(corners_exact(balanced)) : closing_noise_mm(balanced);
        const std::vector<SideSuspect> fitting = fitting_sides(nearest, noise);
        if (fitting.empty()) continue;
        if (!exact_corners && fitting.size() > 1 && within_accuracy(finding, book, project)) return finding;
        say_sides(finding, say, balanced, fitting, nearest, noise);
        if (!exchanges.empty() && exchanges.front().miss_mm < fitting.front().miss_mm / 3.0) {
            finding.message += fmt::format(" With {} exchanged they {}.", exchanged(exchanges.front(), say), meet(say, exchanges.front().miss_mm));
        }
        return finding;
    }
    if (!exchanges.empty()) {
        const std::string both = exchanged(exchanges.front(), say);
        finding.message += fmt::format(" No single side explains it, but with {} exchanged the sides {}.", both, meet(say, exchanges.front().miss_mm));
        finding.fix = fmt::format("Look whether {} stand in each other's place.", both);
        return finding;
    }
    if (!nearest.empty()) {
        finding.message += fmt::format(" No single side explains it: even {} at {} leaves {}.", say.side(nearest.front().side),
                                       say.mm(nearest.front().would_be_mm), say.small_mm(nearest.front().miss_mm));
    }
    finding.fix = fmt::format("More than one reading is wrong, or two corners are wrong by opposite amounts. Measure one length straight across, for example {}.",
                              say.pair_across(book.chain.sides() > 3 ? 1 : 0));
    return finding;
}

Findings spread_findings(const Notebook& book, const Project& project, const Misclosure& miss, const Spread& spread) {
    const Speaker say(book, project);
    const std::size_t n = book.chain.sides();
    double most_side = 0.0, most_angle = 0.0, least_angle = 1e300;
    std::size_t side = 0, corner = 0;
    for (std::size_t k = 0; k < n; ++k) {
        if (std::abs(spread.side_mm[k]) > most_side) most_side = std::abs(spread.side_mm[side = k]);
        if (std::abs(spread.angle_deg[k]) > most_angle) most_angle = std::abs(spread.angle_deg[corner = k]);
        least_angle = std::min(least_angle, std::abs(spread.angle_deg[k]));
    }
    const bool sides_moved = most_side > kSilentMm;
    const bool angles_moved = most_angle > kSilentDeg;
    const bool equal_angles = spread.angles_by_shares && most_angle - least_angle <= 1e-9;
    const std::string by_angle = equal_angles ? fmt::format("{} {} {} each corner", miss.angle_deg < 0.0 ? "added" : "took", Speaker::small_deg(most_angle),
                                                            miss.angle_deg < 0.0 ? "to" : "off")
                                              : fmt::format("changed no corner by more than {} ({})", Speaker::small_deg(most_angle), corner_letter(corner));
    const std::string by_side = fmt::format("changed no side by more than {} ({})", say.small_mm(most_side), say.side(side));
    const std::string again = sides_moved ? fmt::format("Nothing to do. If you would rather decide it yourself, measure {} again.", say.side(side))
                                          : fmt::format("Nothing to do. If you would rather decide it yourself, measure {} again.", corner_letter(corner));
    Findings findings;
    const bool sum_off = std::abs(miss.angle_deg) > kSilentDeg;
    if (sum_off) {
        const std::string difference = Speaker::small_deg(std::abs(miss.angle_deg));
        findings.push_back({Severity::note, "outline.angle-sum-spread", "/outline/readings",
                            fmt::format("The corners add up to {}, {} {}: within the digits you gave; I {}.", show_number(miss.angle_sum_deg, 4),
                                        difference, miss.angle_deg < 0.0 ? "short" : "too much", by_angle),
                            fmt::format("Nothing to do. If you would rather decide it yourself, measure {} again.", corner_letter(corner))});
    }
    if (sides_moved) {
        const std::string what = angles_moved && !sum_off ? fmt::format("{} and {}", by_angle, by_side) : by_side;
        const bool bends_design = angles_moved && !sum_off && corners_by_design(book.chain);
        findings.push_back({bends_design ? Severity::warning : Severity::note, "outline.misclosure-spread", "/outline/readings",
                            fmt::format("{} {} from meeting (one in {}): within the digits you gave; I {}.",
                                        sum_off ? "With equal shares at the corners the sides are" : "The sides are", say.small_mm(miss.length_mm),
                                        show_number(miss.one_in, 0), what),
                            again});
        if (bends_design) mean_it_exactly(findings.back(), as_measured(book, project).chain, say);
    }
    return findings;
}

Findings diagonal_findings(const Notebook& book, const Project& project, const Outline& outline) {
    const Speaker say(book, project);
    const Chain& chain = book.chain;
    const std::size_t n = chain.sides();
    Findings findings;
    for (const std::size_t line : book.diagonal_lines) {
        const Reading& r = say.readings()[line];
        const Vec2 from = outline.corners_mm[r.first];
        const Vec2 to = outline.corners_mm[r.second];
        const double is_mm = length(to - from);
        const double off_mm = *r.value - is_mm;
        const double own = r.accuracy.value_or(r.half_step);
        if (std::abs(off_mm) <= own + kSilentMm) continue;

        // What the digits of one way round allow, to first order: sides stretch it along, corners swing it.
        const Vec2 e = is_mm > 0.0 ? (1.0 / is_mm) * (to - from) : Vec2{1.0, 0.0};
        const auto allowed_over = [&](std::size_t start, std::size_t stop) {
            double allowed = own;
            for (std::size_t k = start; k != stop; k = k + 1 == n && chain.closed ? 0 : k + 1) {
                const std::size_t next = k + 1 == outline.corners_mm.size() ? 0 : k + 1;
                const Vec2 side = outline.corners_mm[next] - outline.corners_mm[k];
                allowed += chain.side_within_mm[k] * std::abs(dot(e, side)) / outline.sides_mm[k];
                if (k != start) allowed += radians(chain.angle_within_deg[k]) * std::abs(cross(e, outline.corners_mm[k] - from));
            }
            return allowed;
        };
        double allowed = allowed_over(r.first, r.second);
        if (chain.closed) allowed = std::min(allowed, allowed_over(r.second, r.first));

        const std::string name = pair_name(r.first, r.second);
        const bool explained = std::abs(off_mm) <= allowed;
        Finding finding{explained ? Severity::note : Severity::error, "outline.diagonal", r.pointer, "", ""};
        finding.message = fmt::format("{} is given as {}; sides and corners make it {}, so it is {} {}{}.", name, say.mm(*r.value), say.mm(is_mm),
                                      say.small_mm(std::abs(off_mm)), off_mm > 0.0 ? "too long" : "too short",
                                      explained ? "; the digits of the sides and corners leave room for that" : "");
        if (explained) {
            finding.fix = fmt::format("Nothing to do for a check. To have {} exactly, give the corners between with one digit more.", name);
        } else {
            finding.fix = fmt::format("Measure {} again; if {} is right, one of the sides or corners between is not.", name, say.mm(*r.value));
            const bool one_corner_between = r.second == r.first + 2;
            const std::size_t corner = r.first + 1;
            if (one_corner_between) {
                const double a = outline.sides_mm[r.first], b = outline.sides_mm[r.first + 1];
                const double cosine = (a * a + b * b - *r.value * *r.value) / (2.0 * a * b);
                if (std::abs(cosine) < 1.0) {
                    const double inner = degrees(std::acos(cosine));
                    const double corner_deg = outline.interior_deg[corner] > 180.0 ? 360.0 - inner : inner;
                    finding.fix = fmt::format("Measure {0} again; if {1} is right, {2} is {3} instead of {4}, or a side beside it is wrong.", name, say.mm(*r.value),
                                              corner_letter(corner), Speaker::small_deg(corner_deg), say.deg(outline.interior_deg[corner]));
                }
            }
        }
        findings.push_back(std::move(finding));
    }
    return findings;
}

}  // namespace boardring
