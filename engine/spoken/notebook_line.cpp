#include "spoken/notebook_line.hpp"

#include <algorithm>
#include <array>

#include "io/reading_words.hpp"

namespace boardring {
namespace {

constexpr std::string_view kBlank = " \t";
constexpr std::string_view kInward = "inward";
constexpr std::array<std::string_view, 7> kDashes{"-", "\u2010", "\u2011", "\u2012", "\u2013", "\u2014", "\u2212"};
constexpr std::array<std::string_view, 3> kPlusMinus{"+-", "+/-", "\u00B1"};

bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

std::string take_letters(std::string_view text, std::size_t& at) {
    std::string letters;
    for (; at < text.size() && is_letter(text[at]); ++at) {
        letters += text[at] >= 'a' ? static_cast<char>(text[at] - 'a' + 'A') : text[at];
    }
    return letters;
}

void skip_blank(std::string_view text, std::size_t& at) {
    at = std::min(text.find_first_not_of(kBlank, at), text.size());
}

bool take_dash(std::string_view text, std::size_t& at) {
    for (const std::string_view dash : kDashes) {
        if (!text.substr(at).starts_with(dash)) continue;
        at += dash.size();
        return true;
    }
    return false;
}

// Letters at `at`, moved behind them.
std::optional<NotebookHead> take_head(std::string_view text, std::size_t& at) {
    NotebookHead head;
    head.first = take_letters(text, at);
    if (head.first.empty() || head.first.size() > 3) return std::nullopt;
    std::size_t behind = at;
    skip_blank(text, behind);
    if (take_dash(text, behind)) {
        skip_blank(text, behind);
        head.second = take_letters(text, behind);
        if (head.second.empty()) return std::nullopt;
        at = behind;
    } else if (head.first.size() > 2) {
        return std::nullopt;
    } else if (head.first.size() == 2) {
        head.second = head.first.substr(1);
        head.first.resize(1);
    }
    // Shorter names come first in the alphabet of corners: Z before AA.
    const auto later = [](const std::string& a, const std::string& b) {
        return a.size() != b.size() ? a.size() > b.size() : a > b;
    };
    if (!head.second.empty() && later(head.first, head.second)) std::swap(head.first, head.second);
    return head;
}

// What a worded line tells: a fall, a rise and "level" are one thing, told three ways.
ReadingWord kind_of(ReadingWord word) {
    switch (word) {
        case ReadingWord::fall:
        case ReadingWord::rise:
        case ReadingWord::level:
            return ReadingWord::fall;
        case ReadingWord::right:
        case ReadingWord::left:
        case ReadingWord::plumb:
            return ReadingWord::right;
        case ReadingWord::sill:
        case ReadingWord::head:
            return ReadingWord::sill;
        case ReadingWord::none:
        case ReadingWord::to:
        case ReadingWord::bow:
        case ReadingWord::tie:
            break;
    }
    return word;
}

std::optional<NotebookHead> width_to(std::string_view value) {
    std::size_t at = 0;
    return take_head(value, at);
}

}  // namespace

std::optional<NotebookHead> notebook_head(std::string_view word) {
    std::size_t at = 0;
    const auto head = take_head(word, at);
    return at == word.size() ? head : std::nullopt;
}

std::optional<NotebookLine> notebook_line(std::string_view text) {
    std::size_t at = 0;
    skip_blank(text, at);
    const auto head = take_head(text, at);
    if (!head) return std::nullopt;
    NotebookLine line;
    line.head = *head;
    skip_blank(text, at);
    line.value_begin = at;
    line.tail_end = std::max(at, text.find_last_not_of(kBlank) + 1);
    line.value_end = line.tail_end;
    const std::string_view tail = text.substr(0, line.tail_end);
    for (const std::string_view mark : kPlusMinus) {
        const std::size_t found = tail.find(mark, at);
        if (found == std::string_view::npos) continue;
        line.has_accuracy = true;
        line.value_end = std::min(line.value_end, found);
    }
    if (const std::size_t found = tail.find(kInward, at); found != std::string_view::npos) {
        line.inward = true;
        line.value_end = std::min(line.value_end, found);
    }
    while (line.value_end > at && kBlank.find(text[line.value_end - 1]) != std::string_view::npos) --line.value_end;
    return line;
}

bool is_worded_reading(std::string_view text) {
    const auto line = notebook_line(text);
    return line && line->value_begin < line->value_end && is_letter(text[line->value_begin]);
}

std::optional<std::size_t> find_reading(const JsonValue& readings, const NotebookHead& head) {
    for (std::size_t i = 0; i < readings.children.size(); ++i) {
        const auto line = notebook_line(readings.children[i].text);
        if (line && line->head == head && !is_worded_reading(readings.children[i].text)) return i;
    }
    return std::nullopt;
}

std::optional<std::size_t> find_worded_reading(const JsonValue& readings, const NotebookHead& head, std::string_view value) {
    const ReadingWord kind = kind_of(take_reading_word(value));
    if (kind == ReadingWord::none) return std::nullopt;
    for (std::size_t i = 0; i < readings.children.size(); ++i) {
        const std::string& text = readings.children[i].text;
        const auto line = notebook_line(text);
        if (!line || line->head != head) continue;
        std::string_view written = std::string_view(text).substr(line->value_begin);
        if (kind_of(take_reading_word(written)) != kind) continue;
        if (kind != ReadingWord::to || width_to(written) == width_to(value)) return i;
    }
    return std::nullopt;
}

}  // namespace boardring
