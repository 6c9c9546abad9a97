#include "io/json_fault.hpp"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "io/place.hpp"

namespace boardring {
namespace {

constexpr std::string_view kBlank = " \t\r\n";

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || c == '$' || static_cast<unsigned char>(c) >= 0x80;
}
bool is_word(char c) {
    return is_letter(c) || is_digit(c);
}

bool is_same_but_for_case(std::string_view word, std::string_view lower) {
    return std::equal(word.begin(), word.end(), lower.begin(), lower.end(), [](char a, char b) { return (a | 0x20) == b; });
}

// One explanation; reads the text around the stop and never moves on from it.
class Explainer {
public:
    Explainer(std::string_view text, const JsonStop& stop)
        : text_(text), stop_(stop), next_(skip_blank_and_comments(text, stop.offset)) {}

    Finding explain() {
        if (next_ + 1 < text_.size() && text_[next_] == '/' && text_[next_ + 1] == '*') {
            return say(next_, "This comment is opened with /* and never closed.", "Close it with */.");
        }
        switch (stop_.wait) {
            case JsonWait::first_value:
                return at_end()
                           ? say(next_, "The file is empty.", "Start with { and the line \"format\": \"boardring-project-1\".")
                           : value_fault(next_);
            case JsonWait::first_key:
                return key_fault(next_);
            case JsonWait::colon:
                return colon_fault();
            case JsonWait::first_item:
                return value_fault(next_);
            case JsonWait::after_member:
                return after_value('}');
            case JsonWait::after_item:
                return after_value(']');
            case JsonWait::end:
                if (stop_.odd_pair) return odd_pair("one closing bracket is too many");
                return say(next_, fmt::format("The project ends at the bracket before this; {} is left over.", shown(next_)),
                           "Remove what follows, or the closing bracket that came too early.");
        }
        return say(next_, "This is no JSON.", "Check the line and the one before it.");
    }

private:
    bool at_end() const { return next_ >= text_.size(); }

    Finding say(std::size_t offset, std::string message, std::string fix) const {
        const Place place = PlaceFinder(text_).at(offset);
        return {Severity::error, "file.not-json", "", std::move(message), std::move(fix), place.line, place.column};
    }

    Place place_of_offset(std::size_t offset) const { return PlaceFinder(text_).at(offset); }

    // What stands at `offset`, short enough to quote.
    std::string shown(std::size_t offset) const {
        if (offset >= text_.size()) return "the end of the file";
        std::size_t end = offset;
        while (end < text_.size() && end < offset + 24 && is_word(text_[end])) ++end;
        while (end < text_.size() && (static_cast<unsigned char>(text_[end]) & 0xC0U) == 0x80U) ++end;
        if (end == offset) end = offset + 1;
        if (static_cast<unsigned char>(text_[offset]) < 0x20) return "a control character";
        return std::string(text_.substr(offset, end - offset));
    }

    Finding never_closed() const {
        if (stop_.open.empty()) return say(next_, "The file ends too early.", "Finish the project with }.");
        const std::size_t bracket = stop_.open.back();
        const char closer = text_[bracket] == '{' ? '}' : ']';
        if (stop_.odd_pair) return odd_pair(fmt::format("a {} is missing", closer));
        return say(
            bracket,
            fmt::format("The {} opened here is never closed: a {} is missing before the file ends.", text_[bracket], closer),
            fmt::format("Add the {} where this part ends.", closer));
    }

    Finding odd_pair(std::string_view what) const {
        const auto [opener, closer] = *stop_.odd_pair;
        const Place opened = place_of_offset(opener);
        return say(
            closer,
            fmt::format(
                "Brackets do not pair up: {} somewhere. This {} ends the {} of line {} but is not indented like that line.", what,
                text_[closer], text_[opener], opened.line),
            fmt::format("Look between line {} and this one.", opened.line));
    }

    Finding wrong_closer(std::size_t offset) const {
        const std::size_t bracket = stop_.open.back();
        const Place opened = place_of_offset(bracket);
        const char closer = text_[bracket] == '{' ? '}' : ']';
        return say(offset,
                   fmt::format("{} closes nothing here: the {} of line {} column {} is still open and needs {}.", text_[offset],
                               text_[bracket], opened.line, opened.column, closer),
                   fmt::format("Write {} here, or close the inner part first.", closer));
    }

    bool is_closer(std::size_t offset) const { return offset < text_.size() && (text_[offset] == '}' || text_[offset] == ']'); }

    Finding after_value(char closer) const {
        if (at_end()) return never_closed();
        if (auto comma = decimal_comma(closer)) return *std::move(comma);
        if (text_[next_] == ',') return after_comma(skip_blank_and_comments(text_, next_ + 1), closer);
        if (is_closer(next_)) return wrong_closer(next_);
        if (text_[next_] == ':') {
            return say(next_, "A colon stands here, where a comma or a closing bracket is needed.",
                       "Lists have no keys: use { } round keys and [ ] round plain values.");
        }
        if (auto number = unquoted_length_text()) return *std::move(number);
        if (text_[next_] == '"' && next_ == stop_.offset) {
            return say(next_, "A quote stands right behind a closed text.",
                       "Write in for an inch mark inside quotes: \"5 1/2 in\"; or put a backslash before it.");
        }
        return say(stop_.offset,
                   fmt::format("A comma is missing here, before {}.", shown(next_) == "\"" ? quoted_shown(next_) : shown(next_)),
                   "Put a comma between two entries.");
    }

    std::string quoted_shown(std::size_t offset) const {
        const std::size_t end = text_.find_first_of("\"\n", offset + 1);
        if (end == std::string_view::npos || text_[end] == '\n' || end > offset + 40) return "the next text";
        return std::string(text_.substr(offset, end + 1 - offset));
    }

    Finding after_comma(std::size_t offset, char closer) const {
        if (offset >= text_.size()) return never_closed();
        if (is_closer(offset)) {
            return say(next_, fmt::format("This comma is followed by {}: nothing comes after the last entry.", text_[offset]),
                       "Remove the comma, or add the entry that should follow it.");
        }
        if (text_[offset] == ',') return say(offset, "Two commas stand one after the other.", "Remove one of them.");
        return closer == '}' ? key_fault(offset) : value_fault(offset);
    }

    // 400,5 among keys: after a number's comma a key must come, never another digit.
    std::optional<Finding> decimal_comma(char closer) const {
        const std::size_t start = stop_.value_offset;
        if (closer != '}' || next_ != stop_.offset || next_ + 1 >= text_.size() || text_[next_] != ',' || !is_digit(text_[next_ + 1])) return std::nullopt;
        const std::string_view whole = text_.substr(start, next_ - start);
        const bool plain = !whole.empty() && std::all_of(whole.begin() + (whole.front() == '-' ? 1 : 0), whole.end(), is_digit);
        std::size_t end = next_ + 1;
        while (end < text_.size() && is_digit(text_[end])) ++end;
        if (!plain || end - start > 40) return std::nullopt;
        const std::string_view decimals = text_.substr(next_ + 1, end - next_ - 1);
        return say(start, fmt::format("{},{} has a comma where decimals take a point.", whole, decimals), fmt::format("Write {}.{}.", whole, decimals));
    }

    // 5 1/2, 1.2 m, 3' 6": a length with more than a number needs quotes.
    std::optional<Finding> unquoted_length_text() const {
        const std::size_t start = stop_.value_offset;
        if (!is_digit(text_[start]) && text_[start] != '-') return std::nullopt;
        const std::string_view between = text_.substr(stop_.offset, next_ - stop_.offset);
        const bool opens_next = text_[next_] == '"' ? next_ != stop_.offset : text_[next_] == '{' || text_[next_] == '[';
        if (opens_next || between.find('\n') != std::string_view::npos) return std::nullopt;
        if (is_digit(text_[next_]) && next_ == stop_.offset) {  // only behind a leading 0 does a number stop before a digit
            return say(start, "A number starts with 0 here.", "Leave out the leading 0, or put the text in quotes.");
        }
        std::size_t end = text_.find_first_of(",}]\n", start);
        if (end == std::string_view::npos || end > start + 40) end = std::min(start + 40, text_.size());
        std::string whole(text_.substr(start, end - start));
        while (!whole.empty() && kBlank.find(whole.back()) != std::string_view::npos) whole.pop_back();
        std::string inside;
        for (const char c : whole) {
            if (c == '"') inside += '\\';
            inside += c;
        }
        return say(start, fmt::format("{} is more than a plain number.", whole),
                   fmt::format("Put it in quotes: \"{}\".", inside));
    }

    Finding key_fault(std::size_t offset) const {
        if (offset >= text_.size()) return never_closed();
        const char c = text_[offset];
        if (c == '"') return text_fault(offset);
        if (c == '\'') return single_quotes(offset);
        if (c == ']') return wrong_closer(offset);
        if (c == ',') return say(offset, "A comma stands before the first entry.", "Remove it.");
        if (is_word(c)) {
            const std::string word = shown(offset);
            return say(offset, fmt::format("The key {} has no quotes.", word), fmt::format("Write \"{}\".", word));
        }
        return say(offset, fmt::format("{} stands where a key in quotes is needed.", shown(offset)),
                   "Write a key such as \"width\", then a colon.");
    }

    Finding colon_fault() const {
        const std::string key = quoted_shown(stop_.key_offset);
        if (at_end()) return never_closed();
        if (text_[next_] != ':') {
            return say(stop_.offset, fmt::format("A colon is missing after {}.", key),
                       fmt::format("Write {}: and its value.", key));
        }
        const std::size_t offset = skip_blank_and_comments(text_, next_ + 1);
        if (offset >= text_.size()) return never_closed();
        if (is_closer(offset) || text_[offset] == ',') {
            return say(next_, fmt::format("{} has no value.", key), "Write the value after the colon, or remove the key.");
        }
        return value_fault(offset);
    }

    Finding value_fault(std::size_t offset) const {
        if (offset >= text_.size()) return never_closed();
        const char c = text_[offset];
        if (c == '"') return text_fault(offset);
        if (c == '\'') return single_quotes(offset);
        if (c == ',') return say(offset, "A comma stands where a value is needed.", "Write the value, or remove the comma.");
        if (is_closer(offset))
            return stop_.open.empty() ? say(offset, "A closing bracket stands where the project should start.", "Start with {.")
                                      : wrong_closer(offset);
        if (is_digit(c) || c == '-' || c == '+' || c == '.') return number_fault(offset);
        if (is_letter(c)) return word_fault(offset);
        return say(offset, fmt::format("{} stands where a value is needed.", shown(offset)),
                   "A value is a number, a text in quotes, true, false, a { } group or a [ ] list.");
    }

    Finding number_fault(std::size_t offset) const {
        const std::size_t end = text_.find_first_of(",}] \t\r\n", offset);
        const std::string_view word =
            text_.substr(offset, std::min(end == std::string_view::npos ? text_.size() - offset : end - offset, std::size_t{40}));
        if (json_number_length(word) == word.size()) {
            Finding finding = say(offset, fmt::format("{} is too large for any use.", word), "Write the number that was meant.");
            finding.code = "value.out-of-range";
            return finding;
        }
        return say(
            offset,
            fmt::format(
                "{} is not written as a number must be: digits, one point with digits on both sides, - in front if negative.",
                word),
            "Write 0.5 for a half, 5 for five; put a length with a unit or a fraction in quotes: \"5 1/2 in\".");
    }

    Finding word_fault(std::size_t offset) const {
        const std::string word = shown(offset);
        for (const std::string_view plain : {"true", "false", "null"}) {
            if (is_same_but_for_case(word, plain))
                return say(offset, fmt::format("{} is written with small letters.", word), fmt::format("Write {}.", plain));
        }
        return say(offset, fmt::format("{} has no quotes.", word),
                   fmt::format("Text goes in quotes: \"{}\"; only true, false and null go without.", word));
    }

    Finding single_quotes(std::size_t offset) const {
        return say(offset, "A single quote ' stands where a double quote is needed.",
                   "Use the double quote at both ends of a text.");
    }

    // Why the text that opens at `offset` is refused.
    Finding text_fault(std::size_t offset) const {
        for (std::size_t i = offset + 1; i < text_.size() && text_[i] != '\n'; ++i) {
            const char c = text_[i];
            if (c == '"') break;
            if (c == '\\') {
                if (i + 1 < text_.size() && text_[i + 1] != '\n' &&
                    std::string_view("\"\\/bfnrtu").find(text_[i + 1]) == std::string_view::npos) {
                    return say(i, fmt::format("\\{} means nothing inside a text.", text_[i + 1]),
                               "Leave the backslash out; it is needed only before an inch mark or another backslash.");
                }
                if (i + 1 < text_.size() && text_[i + 1] == 'u' && bad_escape(i)) {
                    return say(i, "\\u needs four hex digits that make a character.",
                               "Write the character itself; the file is UTF-8.");
                }
                ++i;
            } else if (static_cast<unsigned char>(c) < 0x20 && c != '\r') {
                return say(i, c == '\t' ? "A tab stands inside a text." : "A control character stands inside a text.",
                           "Use a space.");
            }
        }
        return say(offset, "The text that opens here has no closing quote on its line.",
                   "Close it with a quote; before an inch mark inside put a backslash.");
    }

    std::optional<unsigned> hex4(std::size_t offset) const {
        if (offset + 4 > text_.size()) return std::nullopt;
        unsigned value = 0;
        for (std::size_t i = offset; i < offset + 4; ++i) {
            const std::size_t digit =
                std::string_view("0123456789abcdef").find(static_cast<char>(is_letter(text_[i]) ? text_[i] | 0x20 : text_[i]));
            if (digit == std::string_view::npos) return std::nullopt;
            value = value * 16 + static_cast<unsigned>(digit);
        }
        return value;
    }

    // A \u escape at `offset` that is malformed or half of a surrogate pair.
    bool bad_escape(std::size_t offset) const {
        const auto first = hex4(offset + 2);
        if (!first) return true;
        if (*first >= 0xDC00 && *first <= 0xDFFF)
            return !(offset >= 6 && text_[offset - 6] == '\\' && hex4(offset - 4).value_or(0) >> 10U == 0x36U);
        if (*first < 0xD800 || *first > 0xDBFF) return false;
        if (offset + 7 >= text_.size() || text_[offset + 6] != '\\' || text_[offset + 7] != 'u') return true;
        return hex4(offset + 8).value_or(0) >> 10U != 0x37U;
    }

    std::string_view text_;
    const JsonStop& stop_;
    std::size_t next_;
};

}  // namespace

Finding explain_json_fault(std::string_view text, const JsonStop& stop) {
    return Explainer(text, stop).explain();
}

std::size_t json_number_length(std::string_view text) {
    std::size_t i = 0;
    const auto digits = [&] {
        const std::size_t start = i;
        while (i < text.size() && is_digit(text[i])) ++i;
        return i > start;
    };
    if (i < text.size() && text[i] == '-') ++i;
    if (i < text.size() && text[i] == '0') {
        ++i;
    } else if (!digits()) {
        return 0;
    }
    if (i + 1 < text.size() && text[i] == '.' && is_digit(text[i + 1])) {
        ++i;
        digits();
    }
    if (i < text.size() && (text[i] == 'e' || text[i] == 'E')) {
        std::size_t sign = i + 1;
        if (sign < text.size() && (text[sign] == '+' || text[sign] == '-')) ++sign;
        if (sign < text.size() && is_digit(text[sign])) {
            i = sign;
            digits();
        }
    }
    return i;
}

std::size_t skip_blank_and_comments(std::string_view text, std::size_t offset) {
    while (offset < text.size()) {
        const std::string_view rest = text.substr(offset);
        if (kBlank.find(rest.front()) != std::string_view::npos) {
            ++offset;
        } else if (rest.starts_with("//")) {
            const std::size_t end = rest.find_first_of("\r\n");
            if (end == std::string_view::npos) return text.size();
            offset += end;
        } else if (rest.starts_with("/*")) {
            const std::size_t end = rest.find("*/", 2);
            if (end == std::string_view::npos) return offset;
            offset += end + 2;
        } else {
            return offset;
        }
    }
    return offset;
}

}  // namespace boardring
