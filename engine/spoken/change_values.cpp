#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "base/angle_text.hpp"
#include "base/quoted.hpp"
#include "base/suggest.hpp"
#include "io/json_fault.hpp"
#include "spoken/change_parts.hpp"

namespace boardring {
namespace {

constexpr std::array<std::string_view, 13> kCounts{"none", "one",   "two",   "three", "four",   "five",  "six",
                                                   "seven", "eight", "nine", "ten",   "eleven", "twelve"};

std::string listed(const std::vector<std::string_view>& words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) text += fmt::format("{}{}", i == 0 ? "" : i + 1 == words.size() ? " or " : ", ", words[i]);
    return text;
}

template <class Read>
bool reads(Changing& changing, const Result<Read>& result) {
    for (Finding finding : result.findings()) {
        finding.pointer.clear();
        if (finding.severity == Severity::error) changing.read.findings.push_back(std::move(finding));
    }
    return result.ok();
}

std::optional<std::string> word_json(Changing& changing, std::string_view text, const std::vector<std::string_view>& words) {
    const Phrase said(text);
    for (const std::string_view word : words) {
        Phrase rest = said;
        if (rest.take(word) && rest.empty()) return json_text(word);
    }
    changing.not_understood(text, words, fmt::format("Say {}.", listed(words)));
    return std::nullopt;
}

std::optional<std::string> flag_json(Changing& changing, std::string_view text) {
    const auto word = word_json(changing, text, {"true", "false", "yes", "no"});
    if (!word) return std::nullopt;
    return *word == "\"true\"" || *word == "\"yes\"" ? "true" : "false";
}

}  // namespace

const JsonValue* Changing::at(std::string_view pointer) const {
    return value_at(root, *json_path(pointer));
}

void Changing::no_such(std::string message, std::string fix) {
    read.findings.push_back({Severity::error, "change.no-such", "", std::move(message), std::move(fix)});
}

void Changing::not_understood(std::string_view word, const std::vector<std::string_view>& known, std::string fix) {
    const std::string near = nearest_word(word, known);
    const bool whole = word == phrase || word.empty();
    read.findings.push_back(
        {Severity::error, "change.not-understood", "",
         whole ? fmt::format("I don't understand {}.", in_quotes(phrase))
               : fmt::format("I don't understand {} in {}.", in_quotes(word), in_quotes(phrase)),
         near.empty() || near == word ? std::move(fix) : fmt::format("Did you mean \"{}\"? {}", near, fix)});
}

void take_link(Phrase& phrase) {
    phrase.take_any({"is", "are", "=", "to", "at", "be", "by"});
    phrase.take_any({"to", "at", "by", "now"});  // saw stops at, is now
}

bool is_json_number(std::string_view text) {
    return !text.empty() && json_number_length(text) == text.size();
}

std::optional<std::string> value_json(Changing& changing, Kind kind, std::string_view text, const std::vector<std::string_view>& words) {
    if (text.empty()) {
        changing.not_understood("", {}, "Say what it is to be, as in: kerf is 3.");
        return std::nullopt;
    }
    // Quotes say that it stands as text in the file: "24" and 24 are one length and two ways to write it.
    const bool in_quotes = text.size() > 1 && text.front() == '"' && text.back() == '"' && kind != Kind::text;
    if (in_quotes) text = text.substr(1, text.size() - 2);
    switch (kind) {
        case Kind::length:
            if (is_json_number(text) && !in_quotes) return std::string(text);
            return reads(changing, parse_length(text, changing.unit)) ? std::optional(json_text(text)) : std::nullopt;
        case Kind::angle:
            if (is_json_number(text) && !in_quotes) return std::string(text);
            return reads(changing, parse_angle(text)) ? std::optional(json_text(text)) : std::nullopt;
        case Kind::number:
        case Kind::count:
            if (is_json_number(text)) return std::string(text);
            for (std::size_t i = 0; i < kCounts.size(); ++i) {
                if (Phrase(text).word() == kCounts[i] && Phrase(text).size() == 1) return std::to_string(i);
            }
            changing.not_understood(text, {kCounts.begin(), kCounts.end()}, "Say a number in figures, such as 2.");
            return std::nullopt;
        case Kind::word:
            return word_json(changing, text, words);
        case Kind::flag:
            return flag_json(changing, text);
        case Kind::text:
            return json_text(text);
    }
    return std::nullopt;
}

}  // namespace boardring
