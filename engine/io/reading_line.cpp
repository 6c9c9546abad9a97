#include "io/reading_line.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "base/names.hpp"
#include "base/quoted.hpp"
#include "io/sections.hpp"
#include "io/values.hpp"

namespace boardring {
namespace {

constexpr std::string_view kBlank = " \t";
constexpr std::string_view kInward = "inward";
constexpr std::string_view kOutward = "outward";
const std::vector<std::string_view> kDashes{"-", "\u2010", "\u2011", "\u2012", "\u2013", "\u2014", "\u2212"};
const std::vector<std::string_view> kPlusMinus{"+-", "+/-", "\u00B1"};

bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

// Takes one of `marks` off the front of the text.
bool take_mark(std::string_view& text, const std::vector<std::string_view>& marks) {
    for (const std::string_view mark : marks) {
        if (text.starts_with(mark)) {
            text.remove_prefix(mark.size());
            return true;
        }
    }
    return false;
}

// Takes "inward" or "outward" off the end of the text.
bool take_side(std::string_view& text, std::string_view word) {
    if (!text.ends_with(word)) return false;
    const std::string_view before = text.substr(0, text.size() - word.size());
    if (!before.empty() && is_letter(before.back())) return false;
    text = without_blanks(before);
    return true;
}

void split_value(std::string_view text, ReadingLine& line) {
    line.word = take_reading_word(text);
    line.inward = take_side(text, kInward);
    if (line.word == ReadingWord::bow) line.outward = take_side(text, kOutward);
    for (std::size_t at = 0; at < text.size(); ++at) {
        std::string_view rest = text.substr(at);
        if (!take_mark(rest, kPlusMinus)) continue;
        line.has_accuracy = true;
        line.accuracy = without_blanks(rest);
        text = without_blanks(text.substr(0, at));
        break;
    }
    line.inward = take_side(text, kInward) || line.inward;
    if (line.word == ReadingWord::bow) line.outward = take_side(text, kOutward) || line.outward;
    line.value = text;
}

}  // namespace

std::string_view without_blanks(std::string_view text) {
    const std::size_t first = text.find_first_not_of(kBlank);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(kBlank) + 1 - first);
}

std::string_view take_letters(std::string_view& text) {
    std::size_t end = 0;
    while (end < text.size() && is_letter(text[end])) ++end;
    const std::string_view letters = text.substr(0, end);
    text.remove_prefix(end);
    return letters;
}

std::optional<ReadingLine> split_reading(Job& job, const Spot& spot) {
    if (spot.json->type != JsonValue::Type::text) {
        tell_wrong_type(job, spot, "a line of the notebook", "Write it in quotes, such as \"AB 900\".");
        return std::nullopt;
    }
    ReadingLine line;
    line.spot = spot;
    std::string_view text = without_blanks(spot.json->text);
    line.first = take_letters(text);
    std::string_view behind_blank = without_blanks(text);
    if (take_mark(behind_blank, kDashes)) {
        std::string_view behind_dash = without_blanks(behind_blank);
        if (!behind_dash.empty() && is_letter(behind_dash.front())) {
            line.second = take_letters(behind_dash);
            text = behind_dash;
        }
    }
    const bool separated = text.empty() || !is_letter(text.front());
    const bool too_long = line.first.size() > 3 || line.second.size() > 3;
    if (line.first.empty() || too_long || !separated) {
        job.tell(spot, "reading.not-understood",
                 fmt::format("The reading {} does not start with the letters of its corners.", in_quotes(spot.json->text)),
                 std::string(kReadingExample));
        return std::nullopt;
    }
    split_value(without_blanks(text), line);
    return line;
}

std::optional<NamedLine> name_corners(Job& job, const ReadingLine& line, bool beyond_z) {
    NamedLine named{line};
    std::string_view first = line.first;
    std::string_view second = line.second;
    if (second.empty() && first.size() == 2 && !beyond_z) {
        second = first.substr(1);
        first = first.substr(0, 1);
    }
    named.is_angle = second.empty();
    const auto a = corner_index(first);
    const auto b = named.is_angle ? a : corner_index(second);
    if (named.is_angle && first.size() > 1 && !beyond_z) {
        job.tell(line.spot, "reading.not-understood", fmt::format("{} could be more than one pair of corners.", in_quotes(first)),
                 "Put a dash between the two corners: \"A-AB 900\".");
        return std::nullopt;
    }
    if (!a || !b || *a >= kMostCorners || *b >= kMostCorners) {
        job.tell(line.spot, "reading.not-understood",
                 fmt::format("{} names a corner beyond the {} a ring may have.", in_quotes(line.spot.json->text), kMostCorners),
                 std::string(kReadingExample));
        return std::nullopt;
    }
    if (!named.is_angle && *a == *b) {
        job.tell(line.spot, "reading.not-understood",
                 fmt::format("{} runs from a corner to itself.", in_quotes(line.spot.json->text)), std::string(kReadingExample));
        return std::nullopt;
    }
    named.first = *a;
    named.second = *b;
    return named;
}

}  // namespace boardring
