#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/length_text.hpp"

namespace boardring {

/// A word, an amount or a mark of a sentence, and where it stands.
struct SpokenToken {
    enum class Kind { word, amount, times, comma, odd, end };
    Kind kind = Kind::end;
    std::size_t begin = 0, end = 0;  ///< bytes of the sentence
    std::string text;                ///< of a word: lower case, hyphens part words; of an amount: as written, with its unit
    double value = 0.0;              ///< of an amount: its first number, without the unit
    bool whole = false;              ///< of an amount: a whole number without a unit
    bool spelled = false;            ///< of an amount: written as a word
    std::optional<Unit> unit;        ///< of an amount: its own unit, the first where there are two (3' 6")
};

/// Splits a sentence; the last token is always `end`. An amount takes its fraction and its unit (`5 1/2 in`, `3' 6-3/4"`, `24in`,
/// `1 m 20 cm`); x or × between amounts is `times`; commas and semicolons are `comma` unless they stand between two digits
/// (`1,200` stays one amount, for parse_length to refuse). Marks of money, colons and full stops are passed over. Any other
/// character is `odd`. Never throws on any bytes; time is linear.
std::vector<SpokenToken> split_sentence(std::string_view sentence);

}  // namespace boardring
