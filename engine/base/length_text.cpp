#include "base/length_text.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/inch_units.hpp"
#include "base/quoted.hpp"
#include "base/suggest.hpp"
#include "base/text_scan.hpp"

namespace boardring {
namespace {

using Kind = Token::Kind;
using Tokens = std::vector<Token>;

constexpr double kLongest_mm = 1e8;

// A unit as a ratio of whole numbers of millimetres, so that a length is rounded once: 1 in = 127/5 mm.
Ratio unit_ratio(Unit unit) {
    switch (unit) {
        case Unit::mm:
            return {1.0, 1.0};
        case Unit::cm:
            return {10.0, 1.0};
        case Unit::m:
            return {1000.0, 1.0};
        case Unit::inch:
            return {127.0, 5.0};
        case Unit::foot:
            return {1524.0, 5.0};
    }
    return {1.0, 1.0};
}

double to_mm(Ratio value, Unit unit) {
    const Ratio one = unit_ratio(unit);
    return value.num * one.num / (value.den * one.den);
}

// The same for an exact value, rounded once; nothing where it needs more than 64 bits.
std::optional<double> to_mm(std::optional<WholeRatio> value, Unit unit) {
    if (!value) return std::nullopt;
    const auto mm = *value * *unit_ratio(unit).exact();
    return mm ? std::optional(nearest_double(*mm)) : std::nullopt;
}

struct UnitWord {
    std::string_view word;
    Unit unit;
};

constexpr std::array<UnitWord, 22> kUnitWords{{{"mm", Unit::mm},
                                               {"millimetre", Unit::mm},
                                               {"millimetres", Unit::mm},
                                               {"millimeter", Unit::mm},
                                               {"millimeters", Unit::mm},
                                               {"cm", Unit::cm},
                                               {"centimetre", Unit::cm},
                                               {"centimetres", Unit::cm},
                                               {"centimeter", Unit::cm},
                                               {"centimeters", Unit::cm},
                                               {"m", Unit::m},
                                               {"metre", Unit::m},
                                               {"metres", Unit::m},
                                               {"meter", Unit::m},
                                               {"meters", Unit::m},
                                               {"in", Unit::inch},
                                               {"ins", Unit::inch},
                                               {"inch", Unit::inch},
                                               {"inches", Unit::inch},
                                               {"ft", Unit::foot},
                                               {"foot", Unit::foot},
                                               {"feet", Unit::foot}}};

std::vector<std::string_view> unit_words() {
    std::vector<std::string_view> words;
    for (const UnitWord& known : kUnitWords) words.push_back(known.word);
    return words;
}

// "63 strong" is a habit at the bench; the amount is in the speaker's eye.
constexpr std::array<std::string_view, 11> kHairWords{"strong", "full",  "heavy", "fat",  "plus", "shy",
                                                      "light",  "scant", "bare",  "weak", "minus"};

std::optional<Unit> unit_of(const Token& token) {
    if (token.kind == Kind::single_mark) return Unit::foot;
    if (token.kind == Kind::double_mark) return Unit::inch;
    if (token.kind != Kind::word) return std::nullopt;
    for (const UnitWord& known : kUnitWords) {
        if (known.word == token.text) return known.unit;
    }
    return std::nullopt;
}

Finding ambiguous(std::string_view text, std::string_view first, std::string_view second, std::string fix) {
    return refused_text("length.ambiguous", fmt::format("{} can mean {} or {}", in_quotes(text), first, second), std::move(fix));
}

Finding not_understood(std::string_view text, std::string_view why, std::string fix) {
    return refused_text("length.not-understood", fmt::format("{} {}", in_quotes(text), why), std::move(fix));
}

// An example in the unit of the job, for texts that give no better hint.
std::string write_like(Unit unit) {
    switch (unit) {
        case Unit::mm:
            return "Write a number of mm, like 413.5, or a length with its unit, like 41.4 cm or 16-1/4 in";
        case Unit::cm:
            return "Write a number of cm, like 41.4, or a length with its unit, like 414 mm or 16-1/4 in";
        case Unit::m:
            return "Write a number of m, like 0.414, or a length with its unit, like 414 mm or 16-1/4 in";
        case Unit::inch:
            return "Write inches, like 16-1/4 or 16.25, or a length with its unit, like 3' 6-3/4\" or 414 mm";
        case Unit::foot:
            return "Write feet and inches, like 3' 6-3/4\", or a length with its unit, like 414 mm";
    }
    return "";
}

// One amount with its unit, if it has one, and what joins it to the amount before.
struct Part {
    Quantity quantity;
    std::optional<Unit> unit;
    bool joined_by_dash = false;
    std::string text;  // a bare number as written
};

// A quantity as words in a message: 3-1/2, 900, 0.75.
std::string plain(const Quantity& q) {
    if (!q.has_fraction) return show_number(q.ratio.value(), 6);
    const double whole = std::floor(q.ratio.num / q.ratio.den);
    const double rest = q.ratio.num - whole * q.ratio.den;
    if (rest == 0.0) return fmt::format("{:.0f}", whole);
    if (whole == 0.0) return fmt::format("{:.0f}/{:.0f}", rest, q.ratio.den);
    return fmt::format("{:.0f}-{:.0f}/{:.0f}", whole, rest, q.ratio.den);
}

// How many of the smaller unit make one of the larger; nothing where the two do not go together in one length.
std::optional<double> smaller_in(Unit larger, Unit smaller) {
    if (larger == Unit::foot && smaller == Unit::inch) return 12.0;
    if (larger == Unit::m && smaller == Unit::cm) return 100.0;
    if (larger == Unit::m && smaller == Unit::mm) return 1000.0;
    if (larger == Unit::cm && smaller == Unit::mm) return 10.0;
    return std::nullopt;
}

// A length in mm as a message of this job says it.
std::string in_job_unit(double mm, Unit unit) {
    const Unit shown = unit == Unit::foot ? Unit::inch : unit;
    return fmt::format("{} {}", show_number(mm / unit_in_mm(shown), 4), unit_name(shown));
}

// The commas of a text between digits: how the pieces around the first one read.
Finding comma_finding(std::string_view text, const Tokens& tokens, Unit unit) {
    std::size_t comma = 0;
    std::size_t count = 0;
    for (std::size_t k = 0; k < tokens.size(); ++k) {
        if (tokens[k].kind != Kind::comma) continue;
        if (count++ == 0) comma = k;
    }
    const bool between = comma > 0 && tokens[comma - 1].kind == Kind::number && tokens[comma - 1].whole &&
                         tokens[comma + 1].kind == Kind::number && !tokens[comma + 1].after_space;
    if (count != 1 || !between) {
        return not_understood(text, "has a comma that I cannot place",
                              "Write one number with a point for decimals, like 1200.5, and no other marks in it");
    }
    const std::string& before = tokens[comma - 1].text;
    const std::string& after = tokens[comma + 1].text;
    const std::optional<Unit> own = unit_of(tokens[comma + 2]);
    const std::string name = fmt::format(" {}", unit_name(own.value_or(unit)));
    const bool thousands = tokens[comma + 1].whole ? after.size() == 3 : after.find('.') == 3;
    const std::string joined = before + after;
    if (!tokens[comma + 1].whole) {
        return ambiguous(text, thousands ? joined + name : "one number", fmt::format("two numbers, {} and {}", before, after),
                         fmt::format("Write {} without the comma if that is meant", joined));
    }
    const std::string decimal = fmt::format("{}.{}", before, after);
    if (thousands) return ambiguous(text, joined + name, decimal + name, fmt::format("Write {} or {}", joined, decimal));
    return ambiguous(text, decimal + name, fmt::format("two numbers, {} and {}", before, after),
                     fmt::format("Write {} with a point if that is meant", decimal));
}

// Two bare numbers in a row: `5-3`, `1 200`, `900-905`, `5 3 1/2"`.
Finding two_numbers(std::string_view text, const Part& a, const Part& b, Unit unit) {
    const std::string first = plain(a.quantity);
    const std::string second = plain(b.quantity);
    const std::string apart = fmt::format("two numbers, {} and {}", first, second);
    if (a.quantity.whole && b.quantity.ratio.value() < 12.0) {
        const double mm =
            to_mm(Ratio{a.quantity.ratio.num * 12.0 * b.quantity.ratio.den + b.quantity.ratio.num, b.quantity.ratio.den}, Unit::inch);
        const std::string feet = fmt::format("{}' {}\"", first, second);
        return ambiguous(text, fmt::format("{} ({})", feet, in_job_unit(mm, unit)), apart,
                         fmt::format("Write {} if feet and inches are meant, otherwise the one number you mean", feet));
    }
    if (!b.joined_by_dash && a.quantity.whole && b.quantity.whole && b.text.size() == 3) {
        const std::string joined = a.text + b.text;
        return ambiguous(text, fmt::format("{} {}", joined, unit_name(b.unit.value_or(unit))), apart,
                         fmt::format("Write {} without the space if that is meant", joined));
    }
    if (b.joined_by_dash) {
        return ambiguous(text, fmt::format("from {} to {}", first, second), fmt::format("{} less {}", first, second),
                         "Write the one number you mean");
    }
    return not_understood(text, fmt::format("holds {}", apart), "Write the one number you mean");
}

// `5/4` may be a lumber name or a slip, `161/4` a space left out.
Finding improper_fraction(std::string_view text, const Quantity& q) {
    return ambiguous(text, plain(q), "a fraction with a slip or a space missing",
                     fmt::format("Write {} if that is meant", plain(q)));
}

Finding bare_fraction(std::string_view text, const Quantity& q, Unit unit) {
    const std::string amount = plain(q);
    const std::string decimal = show_number(q.ratio.value(), 6);
    const std::string inches = fmt::format("{} in ({})", amount, in_job_unit(to_mm(q.ratio, Unit::inch), unit));
    return ambiguous(text, inches, fmt::format("{} {}", decimal, unit_name(unit)),
                     fmt::format("Write {} in if inches are meant, or {} {}", amount, decimal, unit_name(unit)));
}

// Looks for words and signs that say why a text is no length.
Finding unknown_text(std::string_view text, const Tokens& tokens, Unit unit) {
    for (const Token& token : tokens) {
        if (token.kind == Kind::word && std::find(kHairWords.begin(), kHairWords.end(), token.text) != kHairWords.end()) {
            return not_understood(text, fmt::format("says {}: a hair over or under cannot be computed", token.text),
                                  "Write the number your rule shows, like 63-1/32 or 63.5");
        }
        if (token.kind == Kind::times)
            return not_understood(text, "holds two sizes; one length is wanted", "Write one length here");
    }
    const Token& last = tokens[tokens.size() < 3 ? 0 : tokens.size() - 2];
    if (last.kind == Kind::plus || last.kind == Kind::dash) {
        return not_understood(text, "ends in a sign: a hair over or under cannot be computed",
                              "Write the number your rule shows, like 63-1/32 or 63.5");
    }
    for (const Token& token : tokens) {
        if (token.kind == Kind::comma) return comma_finding(text, tokens, unit);
    }
    for (const Token& token : tokens) {
        if (token.kind != Kind::word || unit_of(token)) continue;
        const std::string meant = nearest_word(token.text, unit_words());
        return not_understood(text, fmt::format("has a word I do not know as a unit, {}", in_quotes(token.text)),
                              meant.empty() ? write_like(unit) : fmt::format("Write {} if that is meant", meant));
    }
    return not_understood(text, "is not a length I can read", write_like(unit));
}

// Reads the parts of a text, left to right. False if something stands there that is no part.
bool read_parts(const Tokens& tokens, std::size_t at, std::vector<Part>& parts) {
    while (tokens[at].kind != Kind::end) {
        Part part;
        if (!parts.empty() && tokens[at].kind == Kind::dash) {
            part.joined_by_dash = true;
            ++at;
        }
        part.text = tokens[at].text;
        if (!read_quantity(tokens, at, part.quantity)) return false;
        part.unit = unit_of(tokens[at]);
        if (part.unit) ++at;
        parts.push_back(std::move(part));
    }
    return !parts.empty();
}

// Whether the parts are feet-inches-fraction with nothing but dashes: `5-3-1/2`, at most an inch mark at the end.
bool is_dashed_feet(const std::vector<Part>& parts) {
    return parts.size() == 2 && !parts[0].unit && parts[0].quantity.whole && parts[1].joined_by_dash &&
           parts[1].quantity.dashed && parts[1].unit.value_or(Unit::inch) == Unit::inch;
}

LengthRead length_of(Ratio value, std::optional<WholeRatio> exact, double last_unit, Unit unit, bool unit_given) {
    return {to_mm(exact, unit).value_or(to_mm(value, unit)), 0.5 * to_mm(Ratio{last_unit, 1.0}, unit), unit_given, unit};
}

// `sum` of the larger unit in the smaller, and `more` of those.
std::optional<WholeRatio> with_smaller(std::optional<WholeRatio> sum, double smaller_in_larger, const Ratio& more) {
    const auto factor = WholeRatio::of(smaller_in_larger, 1.0), rest = more.exact();
    if (!sum || !factor || !rest) return std::nullopt;
    const auto in_smaller = *sum * *factor;
    return in_smaller ? *in_smaller + *rest : std::nullopt;
}

// `1'200` is twelve hundred to some, and a foot mark with too many inches to others.
bool is_mark_between_thousands(const std::vector<Part>& parts) {
    return parts.size() == 2 && parts[0].unit == Unit::foot && parts[0].quantity.whole && !parts[1].unit &&
           !parts[1].joined_by_dash && parts[1].quantity.whole && parts[1].text.size() == 3;
}

Result<LengthRead> one_part(std::string_view text, const Part& part, Unit unit) {
    if (!part.unit && part.quantity.has_fraction && unit != Unit::inch) return bare_fraction(text, part.quantity, unit);
    return length_of(part.quantity.ratio, part.quantity.ratio.exact(), part.quantity.last_unit, part.unit.value_or(unit), part.unit.has_value());
}

Finding too_much_of_the_smaller(std::string_view text, const Part& a, const Part& b, Unit larger, Unit smaller) {
    const std::string one = fmt::format("{:.0f} {}", *smaller_in(larger, smaller), unit_name(smaller));
    const std::string added =
        fmt::format("{} {}", show_number(a.quantity.ratio.value() * *smaller_in(larger, smaller) + b.quantity.ratio.value(), 6),
                    unit_name(smaller));
    return ambiguous(text, added, fmt::format("a slip in the {}: {} make one {}", plain(b.quantity), one, unit_name(larger)),
                     fmt::format("Write {} if that is meant, otherwise less than {}", added, one));
}

// Feet and inches, metres and centimetres ...: every part but the last a whole number, units falling.
Result<LengthRead> several_parts(std::string_view text, const std::vector<Part>& parts, Unit unit, const Tokens& tokens) {
    Ratio sum = parts[0].quantity.ratio;
    std::optional<WholeRatio> exact = sum.exact();
    Unit sum_unit = *parts[0].unit;
    for (std::size_t k = 1; k < parts.size(); ++k) {
        const Part& a = parts[k - 1];
        const Part& b = parts[k];
        const Unit own = b.unit.value_or(sum_unit == Unit::foot ? Unit::inch : sum_unit);
        const std::optional<double> ratio = smaller_in(sum_unit, own);
        if (!b.unit && !in_inches(sum_unit)) {
            return not_understood(text, fmt::format("has no unit behind its {}", plain(b.quantity)),
                                  "Write the unit behind each number, like 1 m 20 cm, or one number, like 1.2 m");
        }
        if (!ratio || (b.joined_by_dash && !in_inches(own))) return unknown_text(text, tokens, unit);
        if (!a.quantity.whole) {
            return not_understood(
                text, fmt::format("goes on after {} {}, which is not a whole number", plain(a.quantity), unit_name(sum_unit)),
                fmt::format("Write whole {} and then {}, or one number with one unit", unit_name(sum_unit), unit_name(own)));
        }
        if (b.quantity.ratio.value() >= *ratio) return too_much_of_the_smaller(text, a, b, sum_unit, own);
        sum = {sum.num * *ratio * b.quantity.ratio.den + b.quantity.ratio.num, b.quantity.ratio.den};
        exact = with_smaller(exact, *ratio, b.quantity.ratio);
        sum_unit = own;
    }
    return length_of(sum, exact, parts.back().quantity.last_unit, sum_unit, true);
}

Result<LengthRead> read_length(std::string_view text, const Tokens& tokens, std::size_t at, Unit unit) {
    std::vector<Part> parts;
    if (!read_parts(tokens, at, parts)) return unknown_text(text, tokens, unit);
    for (const Part& part : parts) {
        if (part.quantity.improper) return improper_fraction(text, part.quantity);
    }
    if (parts.size() == 1) return one_part(text, parts[0], unit);
    if (is_mark_between_thousands(parts)) {
        const std::string joined = parts[0].text + parts[1].text;
        return ambiguous(text, fmt::format("{} {}", joined, unit_name(unit)),
                         fmt::format("{} ft {} in", parts[0].text, parts[1].text),
                         fmt::format("Write {} if that is meant", joined));
    }
    if (is_dashed_feet(parts)) {
        parts[0].unit = Unit::foot;
        parts[1].unit = Unit::inch;
    }
    if (!parts[0].unit) {
        return parts.size() == 2 ? two_numbers(text, parts[0], parts[1], unit) : unknown_text(text, tokens, unit);
    }
    return several_parts(text, parts, unit, tokens);
}

}  // namespace

Result<LengthRead> parse_length(std::string_view text, Unit unit) {
    if (text.size() > kLongestText) {
        return not_understood(text, fmt::format("is {} bytes long; a length has at most {}", text.size(), kLongestText),
                              write_like(unit));
    }
    const Tokens tokens = scan_text(text);
    if (tokens[0].kind == Kind::end) return refused_text("length.not-understood", "There is no length here", write_like(unit));
    const bool negative = tokens[0].kind == Kind::dash;
    const std::size_t at = negative || tokens[0].kind == Kind::plus ? 1 : 0;
    Result<LengthRead> read = read_length(text, tokens, at, unit);
    if (!read.ok()) return read;
    LengthRead length = read.value();
    if (!(length.mm <= kLongest_mm)) return not_understood(text, "is longer than 100 km", write_like(unit));
    if (negative && length.mm != 0.0) length.mm = -length.mm;
    return length;
}

std::string_view unit_name(Unit unit) {
    switch (unit) {
        case Unit::mm:
            return "mm";
        case Unit::cm:
            return "cm";
        case Unit::m:
            return "m";
        case Unit::inch:
            return "in";
        case Unit::foot:
            return "ft";
    }
    return "mm";
}

double unit_in_mm(Unit unit) {
    return to_mm(Ratio{1.0, 1.0}, unit);
}

}  // namespace boardring
