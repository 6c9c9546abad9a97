#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "io/located_json.hpp"

namespace boardring {

// A line of the notebook as `change` sees it: "AB 900 +-3", "E 90 inward". What the value means is read_readings' business.

/// What the line speaks of: one corner, or two in alphabetical order; upper case.
struct NotebookHead {
    std::string first;
    std::string second;  ///< "" for an angle
    friend bool operator==(const NotebookHead&, const NotebookHead&) = default;
};

/// "C", "ab", "A-C", "AA-AB"; nothing if the word is none of these. Two letters without a dash are two corners.
std::optional<NotebookHead> notebook_head(std::string_view word);

/// Parts of a line, as bytes of its text.
struct NotebookLine {
    NotebookHead head;
    std::size_t value_begin = 0;
    std::size_t value_end = 0;  ///< of the value alone
    std::size_t tail_end = 0;   ///< with its accuracy and "inward"
    bool has_accuracy = false;
    bool inward = false;
};
std::optional<NotebookLine> notebook_line(std::string_view text);

/// Index of the reading of `head`, a length or an angle, in a list of readings.
std::optional<std::size_t> find_reading(const JsonValue& readings, const NotebookHead& head);

/// "AB fall 5", "B tie ...": a line that speaks of something else than the length or the angle of its name.
bool is_worded_reading(std::string_view text);

/// Index of the reading of `head` that measures what the worded `value` does: "rise 5" finds "AB fall 3", "bow 2 inward" another bow;
/// of widths, "to DA 898", the one to the same side. Nothing for a value without such a word.
std::optional<std::size_t> find_worded_reading(const JsonValue& readings, const NotebookHead& head, std::string_view value);

}  // namespace boardring
