#include "io/values.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/angle_text.hpp"
#include "base/length_text.hpp"
#include "base/suggest.hpp"
#include "io/text_bytes.hpp"
#include "io/wording.hpp"

namespace boardring {
namespace {

using Type = JsonValue::Type;

// A limit in the job's unit: limits are round in metric jobs and cut to whole feet in inch jobs where they are long.
std::string show_limit(double mm, const Job& job) {
    if (mm == 0.0) return "0";
    if (!job.in_inches()) return std::abs(mm) >= 1000.0 ? show_number(mm / 1000.0, 1) + " m" : show_number(mm, 2) + " mm";
    const double foot = unit_in_mm(Unit::foot);
    if (std::abs(mm) >= foot) return show_number(std::trunc(mm / foot), 0) + " ft";
    return show_number(mm / unit_in_mm(Unit::inch), 2) + " in";
}

// The two ends of a range in words.
struct Bounds {
    std::string low;
    bool low_allowed = true;
    std::string high;
    bool high_allowed = true;
    std::string unit;  // behind the numbers, with its blank
};

void tell_out_of_range(Job& job, const Spot& spot, const Bounds& bounds, bool too_low) {
    const auto [low, low_allowed, high, high_allowed, unit] = bounds;
    const std::string range = low_allowed && high_allowed
                                  ? fmt::format("from {} to {}{}", low, high, unit)
                                  : fmt::format("{} {} and {} {}{}", low_allowed ? "at least" : "more than", low,
                                                high_allowed ? "at most" : "less than", high, unit);
    std::string fix;
    if (too_low) {
        fix = low_allowed ? fmt::format("Write {}{} or more.", low, unit) : fmt::format("Write more than {}{}.", low, unit);
    } else {
        fix = high_allowed ? fmt::format("Write {}{} or less.", high, unit) : fmt::format("Write less than {}{}.", high, unit);
    }
    job.tell(spot, "value.out-of-range", fmt::format("{} is {}; it must be {}.", name_at_start(spot), written(spot), range),
             std::move(fix));
}

// A number without quotes, rounded once, as the same figures are in quotes: 5.3 times 25.4 would round both the 5.3 and the product.
// Signs and exponents, which texts do not know, keep the two roundings.
double plain_length_mm(const JsonValue& number, Unit unit) {
    const Result<LengthRead> as_text = parse_length(number.text, unit);
    if (as_text.ok() && as_text.findings().empty()) return as_text.value().mm;
    return number.number * unit_in_mm(unit);
}

std::optional<double> length_of(Job& job, const Spot& spot, Measures measures) {
    if (spot.json->type == Type::number) {
        const double mm = plain_length_mm(*spot.json, job.unit);
        job.plain_lengths.push_back({spot, measures, mm});
        return mm;
    }
    if (spot.json->type != Type::text) {
        tell_wrong_type(
            job, spot, "a length",
            fmt::format("Write a number of {}, or text with its unit: \"5 1/2 in\", \"1.2 m\".", unit_name(job.unit)));
        return std::nullopt;
    }
    const Result<LengthRead> read = parse_length(spot.json->text, job.unit);
    take_text_findings(job, spot, read.findings());
    if (!read.ok()) return std::nullopt;
    if (!read.value().unit_given) job.plain_lengths.push_back({spot, measures, read.value().mm});
    return read.value().mm;
}

// Written so that what is no number at all is outside.
bool within(double value, double low, bool low_allowed, double high, bool high_allowed) {
    return (low_allowed ? value >= low : value > low) && (high_allowed ? value <= high : value < high);
}

bool in_limits(Job& job, const Spot& spot, double value, const NumberLimits& limits, const std::string& unit) {
    if (within(value, limits.low, limits.low_allowed, limits.high, limits.high_allowed)) return true;
    tell_out_of_range(job, spot,
                      {show_number(limits.low, 3), limits.low_allowed, show_number(limits.high, 3), limits.high_allowed, unit},
                      !(value > limits.low));
    return false;
}

}  // namespace

// A finding of a text reader knows no place; give it ours.
void take_text_findings(Job& job, const Spot& spot, const Findings& findings) {
    for (Finding finding : findings) {
        finding.pointer = spot.pointer;
        finding.line = spot.json->place.line;
        finding.column = spot.json->place.column;
        job.findings.push_back(std::move(finding));
    }
}

std::optional<double> read_length(Job& job, const Spot& spot, const LengthLimits& limits) {
    const auto mm = length_of(job, spot, limits.measures);
    if (!mm) return std::nullopt;
    if (within(*mm, limits.low_mm, limits.low_allowed, limits.high_mm, true)) return mm;
    tell_out_of_range(job, spot, {show_limit(limits.low_mm, job), limits.low_allowed, show_limit(limits.high_mm, job), true, ""},
                      !(*mm > limits.low_mm));
    return std::nullopt;
}

std::optional<double> read_angle(Job& job, const Spot& spot, const NumberLimits& limits) {
    double deg = spot.json->number;
    if (spot.json->type == Type::text) {
        const Result<AngleRead> read = parse_angle(spot.json->text);
        take_text_findings(job, spot, read.findings());
        if (!read.ok()) return std::nullopt;
        deg = read.value().deg;
    } else if (spot.json->type != Type::number) {
        tell_wrong_type(job, spot, "an angle", "Write degrees, such as 22.5 or \"22 1/2\".");
        return std::nullopt;
    }
    return in_limits(job, spot, deg, limits, " degrees") ? std::optional(deg) : std::nullopt;
}

std::optional<double> read_number(Job& job, const Spot& spot, const NumberLimits& limits) {
    if (spot.json->type != Type::number) {
        tell_wrong_type(job, spot, "a number", "Write a number without quotes, such as 0.2.");
        return std::nullopt;
    }
    return in_limits(job, spot, spot.json->number, limits, "") ? std::optional(spot.json->number) : std::nullopt;
}

std::optional<std::size_t> read_count(Job& job, const Spot& spot, const CountLimits& limits) {
    const double number = spot.json->number;
    if (spot.json->type != Type::number || number != std::trunc(number)) {
        tell_wrong_type(job, spot, fmt::format("a whole number from {} to {}", limits.low, limits.high),
                        fmt::format("Write a whole number without quotes, such as {}.", std::max<std::size_t>(limits.low, 1)));
        return std::nullopt;
    }
    const NumberLimits range{static_cast<double>(limits.low), static_cast<double>(limits.high)};
    return in_limits(job, spot, number, range, "") ? std::optional(static_cast<std::size_t>(number)) : std::nullopt;
}

std::optional<bool> read_flag(Job& job, const Spot& spot) {
    if (spot.json->type == Type::boolean) return spot.json->flag;
    tell_wrong_type(job, spot, "true or false", "Write true or false without quotes.");
    return std::nullopt;
}

std::optional<std::string> read_text(Job& job, const Spot& spot, std::size_t least, std::size_t most) {
    if (spot.json->type != Type::text) {
        tell_wrong_type(job, spot, "text", "Write it in quotes.");
        return std::nullopt;
    }
    const std::size_t length = count_characters(spot.json->text);
    if (length < least || length > most) {
        job.tell(spot, "value.out-of-range",
                 length < least
                     ? fmt::format("{} is empty.", name_at_start(spot))
                     : fmt::format("{} is {} characters long; at most {} fit on the papers.", name_at_start(spot), length, most),
                 fmt::format("Give it {} to {} characters.", least, most));
        return std::nullopt;
    }
    if (has_control_character(spot.json->text)) {
        job.tell(spot, "value.control-character",
                 fmt::format("{} holds a character that cannot be printed (a tab, a line end, or a mark that turns the writing).",
                             name_at_start(spot)),
                 "Type the text again with letters and spaces only.");
        return std::nullopt;
    }
    return spot.json->text;
}

std::optional<std::size_t> read_list(Job& job, const Spot& spot, std::size_t least, std::size_t most, std::string_view items) {
    if (spot.json->type != Type::list) {
        tell_wrong_type(job, spot, fmt::format("a list of {}", items),
                        "Write it between [ and ], with commas between the entries.");
        return std::nullopt;
    }
    const std::size_t count = spot.json->children.size();
    if (count >= least && count <= most) return count;
    job.tell(spot, "value.out-of-range",
             fmt::format("{} has {} {}; it must have {} to {}.", name_at_start(spot), count, count == 1 ? "entry" : "entries",
                         least, most),
             count < least ? fmt::format("Add {}.", items) : fmt::format("Remove {}.", items));
    return std::nullopt;
}

std::optional<std::size_t> read_word(Job& job, const Spot& spot, const std::vector<std::string_view>& allowed) {
    if (spot.json->type != Type::text) {
        tell_wrong_type(job, spot, joined(allowed), "Write one of these words in quotes.");
        return std::nullopt;
    }
    const auto at = std::find(allowed.begin(), allowed.end(), spot.json->text);
    if (at != allowed.end()) return static_cast<std::size_t>(at - allowed.begin());
    job.tell(spot, "value.not-allowed",
             fmt::format("{} is {}; it must be {}.", name_at_start(spot), written(spot), joined(allowed)),
             fmt::format("{}Write one of these words.", did_you_mean(spot.json->text, allowed)));
    const std::string near = nearest_word(spot.json->text, allowed);
    if (!near.empty() && allowed.size() > 1 && spot.pointer != "/units") job.mended_by(set_phrase(spot.pointer, near));
    return std::nullopt;
}

}  // namespace boardring
