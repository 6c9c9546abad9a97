#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "base/names.hpp"
#include "outline/found.hpp"
#include "outline/notebook.hpp"
#include "outline/speaker.hpp"
#include "outline/walked_miss.hpp"

namespace boardring {
namespace {

constexpr double kSure = 0.001;      // chance of a clean set that looks as bad: below, the plan stops
constexpr std::size_t kNamed = 3;    // rivals named in a message
constexpr double kAlong_deg = 10.0;  // a miss runs along a side
constexpr double kTellsApart = 4.0;  // standard deviations between the two answers of a deciding distance

// The maker's units and names for one found outline.
class Words {
public:
    Words(const Project& project, const Network& network)
        : network_(network), style_(project.style()), readings_(std::get<ReadingsOutline>(project.outline.form).readings) {}

    [[nodiscard]] std::string name(const Observation& o) const { return observation_name(network_, o); }
    [[nodiscard]] std::string name(std::size_t a, std::size_t b) const {
        return pair_name(network_.letters[a], network_.letters[b]);
    }
    [[nodiscard]] std::string mm(double value) const { return show_length_unit(value, style_); }
    [[nodiscard]] std::string value(const Observation& o, double value) const {
        switch (o.kind) {
            case Observation::Kind::angle:
                return show_number(value, 1);
            case Observation::Kind::height:
                return against(o, value, "fall", "rise", "level");
            case Observation::Kind::sideways:
                return against(o, value, "right", "left", "plumb");
            case Observation::Kind::distance:
                break;
        }
        return mm(value);
    }
    /// "6 mm too long", "2.5 too large".
    [[nodiscard]] std::string off(const Observation& o, double by) const {
        if (o.kind == Observation::Kind::angle) {
            return fmt::format("{} degrees too {}", Speaker::small_deg(std::abs(by)), by > 0.0 ? "large" : "small");
        }
        return fmt::format("{} too {}", show_small(std::abs(by), style_), by > 0.0 ? "long" : "short");
    }
    [[nodiscard]] std::string within(const Observation& o, double sd) const {
        return o.kind == Observation::Kind::angle ? Speaker::small_deg(sd) : show_small(sd, style_);
    }
    [[nodiscard]] const Reading& reading(const Observation& o) const { return readings_[o.line]; }
    /// The phrase of `change` that puts a reading right: "BD is 1134 mm", "AB fall 3 mm".
    [[nodiscard]] std::string change(const Observation& o, double meant) const {
        if (o.kind == Observation::Kind::distance || o.kind == Observation::Kind::angle)
            return fmt::format("{} is {}", name(o), value(o, meant));
        const auto [first, second] = std::minmax(reading(o).first, reading(o).second);
        return fmt::format("{} {}", pair_name(first, second), value(o, meant));
    }

private:
    // Of the two corners as the name has them, earlier letter first; "AB rise 5" is kept as BA falling by 5.
    [[nodiscard]] std::string against(const Observation& o, double value_mm, const char* above, const char* below, const char* nought) const {
        const std::string shown = mm(std::abs(value_mm));
        const bool turned = reading(o).first > reading(o).second;
        return shown.starts_with("0 ") ? std::string(nought) : fmt::format("{} {}", (value_mm > 0.0) != turned ? above : below, shown);
    }

    const Network& network_;
    LengthStyle style_;
    const std::vector<Reading>& readings_;
};

std::string slip_words(const FittingSlip& slip) {
    if (slip.length) {
        switch (*slip.length) {
            case SideSlip::hundred:
                return "a tape held at 100 and the 100 not taken off, or taken off twice";
            case SideSlip::ten:
                return "a tape held at 10 and the 10 not taken off, or taken off twice";
            case SideSlip::inch:
                return "a tape held at 1 in and the inch not taken off, or taken off twice";
            case SideSlip::swapped:
                return "digits swapped";
            case SideSlip::factor_ten:
                return "a nought too many or too few";
            case SideSlip::factor_inch:
                return "inches taken for millimetres, or the other way";
            case SideSlip::factor_twelve:
                return "inches taken for feet, or the other way";
            case SideSlip::outside_taken:
                return "read along the other face of the boards";
            case SideSlip::middle_taken:
                return "read to or from the middle of the boards";
            case SideSlip::none:
                break;
        }
    }
    if (slip.level) {
        switch (*slip.level) {
            case LevelSlip::other_way:
                return "read the other way";
            case LevelSlip::factor_ten:
                return "a nought too many or too few";
            case LevelSlip::factor_inch:
                return "inches taken for millimetres, or the other way";
            case LevelSlip::swapped:
                return "digits swapped";
        }
    }
    if (slip.angle) {
        switch (*slip.angle) {
            case Slip::outside_ring:
                return "the angle outside the ring";
            case Slip::turn:
                return "what the boards turn, not the corner";
            case Slip::half:
                return "half the corner";
            case Slip::saw:
                return "what the saw is set to, not the corner";
            case Slip::swapped:
                return "digits swapped";
        }
    }
    return "";
}

// "CD reads 1124 mm; the others make it 1213.6 mm (give or take 2 mm). 1214 mm would fit: digits swapped."
std::string suspect_words(const Words& say, const Observation& o, const ReadingSuspect& s) {
    std::string text = fmt::format("{} reads {}; the others make it {}, give or take {}.", say.name(o), say.value(o, o.value),
                                   say.value(o, s.would_be), say.within(o, 2.0 * s.would_be_sd));
    for (std::size_t i = 0; i < std::min<std::size_t>(s.slips.size(), 2); ++i) {
        text += fmt::format(fmt::runtime(i == 0 ? " {} would fit: {}." : " So would {}: {}."), say.value(o, s.slips[i].meant),
                            slip_words(s.slips[i]));
    }
    return text;
}

// Sides and angles alone: where the walk round them ends is a second sign, said where it agrees.
std::string second_sign_words(const Words& say, const Network& network, std::size_t observation) {
    const auto miss = walked_miss(network, observation);
    if (!miss) return "";
    const Observation& o = network.observations[observation];
    const std::string walked =
        " A second sign: walked round by sides and angles, the end misses the start by " + say.mm(miss->length_mm);
    if (o.kind == Observation::Kind::distance) {
        if (miss->off > kAlong_deg) return "";
        const double within_deg = std::max(1.0, std::ceil(miss->off));
        return fmt::format("{}, along {} to within {:.0f} degree{}.", walked, say.name(o), within_deg,
                           within_deg > 1.0 ? "s" : "");
    }
    if (!miss->nearest) return "";
    return fmt::format("{}, and the line square across the middle of that miss passes {} nearer than any other corner.", walked,
                       say.name(o));
}

// The distance between two corners that tells the two apart best, seen by how far its two answers lie apart.
struct Deciding {
    std::size_t a = 0, b = 0;
    double first_mm = 0.0, second_mm = 0.0;
};

std::optional<Deciding> deciding_distance(const Fitted& fitted, const ReadingSuspect& first, const ReadingSuspect& second,
                                          double sigma_mm) {
    std::optional<Deciding> best;
    double widest = kTellsApart * sigma_mm;
    const auto of = [](const std::vector<Vec2>& p, std::size_t a, std::size_t b) { return length(p[b] - p[a]); };
    for (std::size_t a = 0; a < fitted.network.points; ++a) {
        for (std::size_t b = a + 1; b < fitted.network.points; ++b) {
            const double one = of(first.points_mm, a, b), other = of(second.points_mm, a, b);
            if (std::abs(one - other) <= widest * (1.0 + 1e-9)) continue;
            widest = std::abs(one - other);
            best = Deciding{a, b, one, other};
        }
    }
    return best;
}

std::string decide_words(const Words& say, const Fitted& fitted, double sigma_mm) {
    const std::vector<ReadingSuspect>& suspects = fitted.judgement.suspects;
    const Observation& one = fitted.network.observations[suspects[0].observation];
    const Observation& other = fitted.network.observations[suspects[1].observation];
    const auto deciding = deciding_distance(fitted, suspects[0], suspects[1], sigma_mm);
    if (!deciding) return fmt::format("Measure {} again, then {}.", say.name(one), say.name(other));
    const std::string name = say.name(deciding->a, deciding->b);
    const bool again = name == say.name(one) || name == say.name(other);
    return fmt::format("Measure {}{}: {} means {} is wrong, {} means {} is.", name, again ? " again" : "",
                       say.mm(deciding->first_mm), say.name(one), say.mm(deciding->second_mm), say.name(other));
}

std::string again_words(const Words& say, const Observation& o, const ReadingSuspect& s) {
    if (s.slips.size() > 1) {
        return fmt::format("Measure {} again; {} or {} would fit.", say.name(o), say.value(o, s.slips[0].meant),
                           say.value(o, s.slips[1].meant));
    }
    return fmt::format("Measure {} again; {} would fit.", say.name(o),
                       say.value(o, s.slips.empty() ? s.would_be : s.slips[0].meant));
}

Finding finding_of_one(const Project& project, const Words& say, const Fitted& fitted) {
    const Judgement& judged = fitted.judgement;
    const ReadingSuspect& best = judged.suspects.front();
    const Observation& o = fitted.network.observations[best.observation];
    const bool sure = judged.chance < kSure;
    Finding finding{sure ? Severity::error : Severity::warning, sure ? "fit.wrong-reading" : "fit.suspect-reading",
                    say.reading(o).pointer, "", ""};
    if (judged.tied <= 1) {
        finding.message = fmt::format(
            "{} {}: {}", sure ? "One reading does not fit the others, very likely" : "One reading fits badly, most likely",
            say.name(o), suspect_words(say, o, best) + second_sign_words(say, fitted.network, best.observation));
        finding.fix = again_words(say, o, best);
        // One usual slip alone is a mend; of two that fit, either would be a guess.
        if (best.slips.size() == 1 && sure) finding.changes.push_back(say.change(o, best.slips[0].meant));
        return finding;
    }
    std::vector<std::string> names;
    for (std::size_t i = 0; i < std::min(judged.tied, kNamed); ++i) {
        names.push_back(say.name(fitted.network.observations[judged.suspects[i].observation]));
    }
    if (judged.tied > kNamed) names.push_back(one_of_others(judged.tied - kNamed));
    finding.message = fmt::format("One reading {}: it could be {}; these readings cannot tell which.",
                                  sure ? "does not fit the others" : "fits badly", listed(names, "or"));
    for (std::size_t i = 0; i < std::min(judged.tied, kNamed); ++i) {
        const ReadingSuspect& s = judged.suspects[i];
        finding.message += " " + suspect_words(say, fitted.network.observations[s.observation], s);
    }
    finding.fix = decide_words(say, fitted, project.accuracy.diagonal_mm);
    return finding;
}

Finding finding_of_several(const Words& say, const Fitted& fitted) {
    const Judgement& judged = fitted.judgement;
    const bool sure = judged.chance < kSure || judged.global_chance < kSure;
    Finding finding{sure ? Severity::error : Severity::warning, "fit.more-than-one", "/outline/readings", "", ""};
    finding.message =
        "The readings do not fit each other, and no single one explains it: more than one is off, or they were taken "
        "with less care than your accuracy says.";
    finding.fix = "Measure again what was hardest to reach, or say how good each reading is, \"AB 900 +-5\".";
    if (judged.suspects.empty()) return finding;
    const Observation& first = fitted.network.observations[judged.suspects.front().observation];
    if (!judged.second_wrong) {
        finding.message +=
            fmt::format(" {} stands out most: {}", say.name(first), suspect_words(say, first, judged.suspects.front()));
        finding.fix = fmt::format("Measure {} again, put in what you find, and I will look further.", say.name(first));
        return finding;
    }
    const Observation& second = fitted.network.observations[*judged.second_wrong];
    finding.message = fmt::format("Two readings do not fit the others, most likely {} and {}: without them the rest fits. {}",
                                  say.name(first), say.name(second), suspect_words(say, first, judged.suspects.front()));
    finding.fix = fmt::format("Measure {} and {} again.", say.name(first), say.name(second));
    return finding;
}

}  // namespace

std::string observation_name(const Network& network, const Observation& o) {
    if (o.kind == Observation::Kind::angle) return corner_letter(network.letters[o.a]);
    const auto [first, second] = std::minmax(network.letters[o.a], network.letters[o.b]);
    if (o.kind == Observation::Kind::height) return pair_name(first, second) + " against level";
    if (o.kind == Observation::Kind::sideways) return pair_name(first, second) + " against plumb";
    return pair_name(network.letters[o.a], network.letters[o.b]);
}

Finding too_few_finding(const Project& project, const Network& network, const std::vector<Vec2>& points_mm) {
    const Words say(project, network);
    Finding finding{Severity::error, "fit.too-few", "/outline/readings", "", ""};
    const Looseness loose = looseness_of(network, points_mm);
    const char* ring = network.closed ? "ring" : "chain";
    if (loose.freedoms == 0 || !loose.hold_with) {
        finding.message = fmt::format("These readings do not hold the {} together.", ring);
        finding.fix = "Measure lengths straight across until every corner hangs on two others.";
        return finding;
    }
    std::vector<std::string> letters;
    constexpr std::size_t kMostLetters = 8;
    for (const std::size_t p : loose.loose) {
        if (letters.size() == kMostLetters && loose.loose.size() > kMostLetters + 1) {
            letters.push_back(fmt::format("{} others", loose.loose.size() - kMostLetters));
            break;
        }
        letters.push_back(corner_letter(network.letters[p]));
    }
    const Observation& next = *loose.hold_with;
    const std::string what = next.kind == Observation::Kind::angle ? "the angle at " + say.name(next) : say.name(next);
    finding.message = fmt::format("The readings are too few to hold the {}: {} can still move. {} more {} needed.", ring,
                                  listed(letters, "and"), counted(loose.freedoms), loose.freedoms == 1 ? "is" : "are");
    finding.fix = fmt::format("Measure {}{}; it fixes most.", what, loose.freedoms == 1 ? "" : " first");
    return finding;
}

Finding not_settled_finding(const Network& network) {
    return {Severity::error, "fit.not-settled", "/outline/readings",
            fmt::format("I found no {} near these {} readings: they pull too hard against each other.",
                        network.closed ? "ring" : "chain", network.observations.size()),
            "Look for a length or an angle that is far out, or for letters in the wrong order."};
}

Findings judgement_findings(const Project& project, const Fitted& fitted) {
    const Judgement& judged = fitted.judgement;
    const Words say(project, fitted.network);
    if (judged.more_than_one) return {finding_of_several(say, fitted)};
    if (!judged.suspects.empty()) return {finding_of_one(project, say, fitted)};
    if (judged.freedoms > 0 && judged.global_chance < kSure) return {finding_of_several(say, fitted)};
    return {};
}

}  // namespace boardring
