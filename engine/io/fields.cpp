#include "io/fields.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include <fmt/format.h>

#include "base/angle_text.hpp"
#include "base/quoted.hpp"
#include "base/suggest.hpp"
#include "io/text_bytes.hpp"

namespace boardring {
namespace {

using Type = JsonValue::Type;

// Words makers use for what is called otherwise here; looked up before the nearest spelling.
struct OtherWord {
    std::string_view word;
    std::string_view ours;
};
constexpr std::array<OtherWord, 24> kOtherWords{{
    {"height", "width"},          {"depth", "thickness"},      {"thick", "thickness"},     {"unit", "units"},
    {"name", "title"},            {"sides", "corners"},        {"diameter", "inscribed_diameter"}, {"flats", "over_flats"},
    {"across_flats", "over_flats"}, {"points", "over_points"}, {"span", "span_deg"},       {"angle", "span_deg"},
    {"saw_cut", "kerf"},          {"blade", "kerf"},           {"layers", "courses"},      {"reveal", "margin"},
    {"inch", "in"},               {"inches", "in"},            {"foot", "ft"},             {"feet", "ft"},
    {"edge", "on edge"},          {"upright", "on edge"},      {"miter", "mitre"},         {"halving", "half-lap"},
}};

bool contains(const std::vector<std::string_view>& words, std::string_view word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

std::string_view meant(std::string_view word, const std::vector<std::string_view>& known) {
    for (const OtherWord& other : kOtherWords) {
        if (other.word == word && contains(known, other.ours)) return other.ours;
    }
    const std::string nearest = nearest_word(word, known);
    const auto at = std::find(known.begin(), known.end(), nearest);
    return at == known.end() ? std::string_view() : *at;
}

std::string did_you_mean(std::string_view word, const std::vector<std::string_view>& known) {
    const std::string_view guess = meant(word, known);
    return guess.empty() ? std::string() : fmt::format("Did you mean \"{}\"? ", guess);
}

// A limit in the job's unit: limits are round in metric jobs and cut to whole feet in inch jobs where they are long.
std::string show_limit(double mm, const Job& job) {
    if (!job.in_inches()) return std::abs(mm) >= 1000.0 ? show_number(mm / 1000.0, 1) + " m" : show_number(mm, 2) + " mm";
    const double foot = unit_in_mm(Unit::foot);
    if (std::abs(mm) >= foot) return show_number(std::trunc(mm / foot), 0) + " ft";
    return show_number(mm / unit_in_mm(Unit::inch), 2) + " in";
}

std::string limits_text(const std::string& low, bool low_allowed, const std::string& high, bool high_allowed) {
    return fmt::format("{} {} and {} {}", low_allowed ? "at least" : "more than", low, high_allowed ? "at most" : "less than", high);
}

void tell_out_of_range(Job& job, const Spot& spot, std::string_view what, const std::string& limits) {
    job.tell(spot, "value.out-of-range", fmt::format("{} is {}; it must be {}.", key_name(spot), written(spot), limits),
             fmt::format("Give {} within these limits.", what));
}

// A finding of a text reader knows no place; give it ours.
void take_text_findings(Job& job, const Spot& spot, const Findings& findings) {
    for (Finding finding : findings) {
        finding.pointer = spot.pointer;
        finding.line = spot.json->place.line;
        finding.column = spot.json->place.column;
        job.findings.push_back(std::move(finding));
    }
}

std::optional<double> length_of(Job& job, const Spot& spot, Measures measures) {
    if (spot.json->type == Type::number) {
        const double mm = spot.json->number * unit_in_mm(job.unit);
        job.plain_lengths.push_back({spot, measures, mm});
        return mm;
    }
    if (spot.json->type != Type::text) {
        tell_wrong_type(job, spot, fmt::format("a length: a number of {}, or text such as \"5 1/2 in\" or \"1.2 m\"", unit_name(job.unit)));
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

std::string number_limits_text(const NumberLimits& limits, std::string_view unit) {
    return limits_text(show_number(limits.low, 3), limits.low_allowed, show_number(limits.high, 3) + std::string(unit), limits.high_allowed);
}

// "entry 2 of entry 1 of "points"" for /outline/points/0/1.
std::string name_of_pointer(const std::string& pointer) {
    const std::size_t slash = pointer.rfind('/');
    const std::string last = pointer.substr(slash + 1);
    if (last.empty() || slash == 0 || last.find_first_not_of("0123456789") != std::string::npos) return quoted(last);
    return fmt::format("entry {} of {}", std::stoul(last) + 1, name_of_pointer(pointer.substr(0, slash)));
}

}  // namespace

void Job::tell(const Spot& spot, std::string code, std::string message, std::string fix, Severity severity) {
    findings.push_back({severity, std::move(code), spot.pointer, std::move(message), std::move(fix), spot.json->place.line, spot.json->place.column});
}

std::optional<Fields> Fields::open(Job& job, const Spot& spot, std::initializer_list<std::string_view> keys, bool (*also)(std::string_view)) {
    if (spot.json->type != Type::object) {
        tell_wrong_type(job, spot, "a { } group with keys");
        return std::nullopt;
    }
    Fields fields;
    fields.spot_ = spot;
    fields.keys_ = keys;
    for (const JsonValue& child : spot.json->children) {
        if (contains(fields.keys_, child.name) || (also != nullptr && also(child.name))) continue;
        Finding finding{Severity::error, "key.unknown", fields.pointer(child.name),
                        fmt::format("{} is no key of {}.", quoted(child.name), spot.pointer.empty() ? "a project" : key_name(spot)),
                        fmt::format("{}Keys here: {}.", did_you_mean(child.name, fields.keys_), joined(fields.keys_, ", ")),
                        child.name_place.line, child.name_place.column};
        job.findings.push_back(std::move(finding));
    }
    return fields;
}

Fields Fields::absent(const Spot& parent, std::string_view key) {
    static const JsonValue kEmpty = [] {
        JsonValue empty;
        empty.type = Type::object;
        return empty;
    }();
    Fields fields;
    fields.spot_ = {&kEmpty, parent.pointer + pointer_step(key)};
    return fields;
}

std::optional<Spot> Fields::find(std::string_view key) const {
    const JsonValue* value = spot_.json->member(key);
    if (value == nullptr) return std::nullopt;
    return Spot{value, pointer(key)};
}

std::optional<Spot> Fields::require(Job& job, std::string_view key, std::string_view what_for) const {
    std::optional<Spot> spot = find(key);
    if (!spot) {
        job.tell(spot_, "key.missing", fmt::format("\"{}\" is missing{}: {}.", key, spot_.pointer.empty() ? "" : " in " + key_name(spot_), what_for),
                 fmt::format("Add \"{}\".", key));
    }
    return spot;
}

std::vector<std::pair<std::string, Spot>> Fields::others() const {
    std::vector<std::pair<std::string, Spot>> others;
    std::set<std::string> seen;
    for (const JsonValue& child : spot_.json->children) {
        if (contains(keys_, child.name) || !seen.insert(child.name).second) continue;
        others.emplace_back(child.name, Spot{&child, pointer(child.name)});
    }
    return others;
}

std::optional<Fields> open_section(Job& job, const Fields& parent, std::string_view key, std::initializer_list<std::string_view> keys) {
    const auto spot = parent.find(key);
    return spot ? Fields::open(job, *spot, keys) : Fields::absent(parent.spot(), key);
}

std::optional<double> read_length(Job& job, const Spot& spot, const LengthLimits& limits) {
    const auto mm = length_of(job, spot, limits.measures);
    if (!mm) return std::nullopt;
    if (within(*mm, limits.low_mm, limits.low_allowed, limits.high_mm, true)) return mm;
    tell_out_of_range(job, spot, "a length", limits_text(show_limit(limits.low_mm, job), limits.low_allowed, show_limit(limits.high_mm, job), true));
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
        tell_wrong_type(job, spot, "an angle: a number of degrees, or text such as \"22 1/2\"");
        return std::nullopt;
    }
    if (within(deg, limits.low, limits.low_allowed, limits.high, limits.high_allowed)) return deg;
    tell_out_of_range(job, spot, "an angle", number_limits_text(limits, " degrees"));
    return std::nullopt;
}

std::optional<double> read_number(Job& job, const Spot& spot, const NumberLimits& limits) {
    if (spot.json->type != Type::number) {
        tell_wrong_type(job, spot, "a number without quotes");
        return std::nullopt;
    }
    if (within(spot.json->number, limits.low, limits.low_allowed, limits.high, limits.high_allowed)) return spot.json->number;
    tell_out_of_range(job, spot, "a number", number_limits_text(limits, ""));
    return std::nullopt;
}

std::optional<std::size_t> read_count(Job& job, const Spot& spot, const CountLimits& limits) {
    if (spot.json->type != Type::number || spot.json->number != std::trunc(spot.json->number)) {
        tell_wrong_type(job, spot, fmt::format("a whole number from {} to {}, without quotes", limits.low, limits.high));
        return std::nullopt;
    }
    const double number = spot.json->number;
    if (within(number, static_cast<double>(limits.low), true, static_cast<double>(limits.high), true)) return static_cast<std::size_t>(number);
    tell_out_of_range(job, spot, "a whole number", limits_text(std::to_string(limits.low), true, std::to_string(limits.high), true));
    return std::nullopt;
}

std::optional<bool> read_flag(Job& job, const Spot& spot) {
    if (spot.json->type == Type::boolean) return spot.json->flag;
    tell_wrong_type(job, spot, "true or false, without quotes");
    return std::nullopt;
}

std::optional<std::string> read_text(Job& job, const Spot& spot, std::size_t least, std::size_t most) {
    if (spot.json->type != Type::text) {
        tell_wrong_type(job, spot, "text in quotes");
        return std::nullopt;
    }
    const std::size_t length = count_characters(spot.json->text);
    if (length < least || length > most) {
        job.tell(spot, "value.out-of-range",
                 length < least ? fmt::format("{} is empty.", key_name(spot))
                                : fmt::format("{} is {} characters long; at most {} fit on the papers.", key_name(spot), length, most),
                 fmt::format("Give it {} to {} characters.", least, most));
        return std::nullopt;
    }
    if (has_control_character(spot.json->text)) {
        job.tell(spot, "value.control-character",
                 fmt::format("{} holds a character that cannot be printed (a tab, a line end, or a mark that turns the writing).", key_name(spot)),
                 "Type the text again with letters and spaces only.");
        return std::nullopt;
    }
    return spot.json->text;
}

std::optional<std::size_t> read_list(Job& job, const Spot& spot, std::size_t least, std::size_t most, std::string_view items) {
    if (spot.json->type != Type::list) {
        tell_wrong_type(job, spot, fmt::format("a [ ] list of {}", items));
        return std::nullopt;
    }
    const std::size_t count = spot.json->children.size();
    if (count >= least && count <= most) return count;
    job.tell(spot, "value.out-of-range", fmt::format("{} has {} {}; it must have {} to {}.", key_name(spot), count, items, least, most),
             count < least ? fmt::format("Add {}.", items) : fmt::format("Remove {}.", items));
    return std::nullopt;
}

std::optional<std::size_t> read_word(Job& job, const Spot& spot, const std::vector<std::string_view>& allowed) {
    if (spot.json->type != Type::text) {
        tell_wrong_type(job, spot, fmt::format("one of these words in quotes: {}", joined(allowed)));
        return std::nullopt;
    }
    const auto at = std::find(allowed.begin(), allowed.end(), spot.json->text);
    if (at != allowed.end()) return static_cast<std::size_t>(at - allowed.begin());
    job.tell(spot, "value.not-allowed", fmt::format("{} is {}; it must be {}.", key_name(spot), written(spot), joined(allowed)),
             fmt::format("{}Write one of these words.", did_you_mean(spot.json->text, allowed)));
    return std::nullopt;
}

std::string written(const Spot& spot) {
    switch (spot.json->type) {
        case Type::null: return "null (nothing)";
        case Type::boolean: return spot.json->flag ? "true" : "false";
        case Type::number: return spot.json->text.size() <= 24 ? spot.json->text : spot.json->text.substr(0, 21) + "...";
        case Type::text: return quoted(spot.json->text);
        case Type::list: return "a [ ] list";
        case Type::object: return "a { } group";
    }
    return {};
}

void tell_wrong_type(Job& job, const Spot& spot, std::string_view needed) {
    job.tell(spot, "value.wrong-type", fmt::format("{} is {}; needed is {}.", key_name(spot), written(spot), needed), fmt::format("Write {}.", needed));
}

std::string key_name(const Spot& spot) {
    if (spot.pointer.empty()) return "The file";
    if (!spot.json->name.empty()) return quoted(spot.json->name);
    std::string name = name_of_pointer(spot.pointer);
    if (name.front() == 'e') name.front() = 'E';
    return name;
}

std::string joined(const std::vector<std::string_view>& words, std::string_view last_link) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) text += i + 1 == words.size() ? last_link : std::string_view(", ");
        text += words[i];
    }
    return text;
}

}  // namespace boardring
