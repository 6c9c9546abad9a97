#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/finding.hpp"
#include "base/whole_ratio.hpp"

namespace boardring {

// The small pieces that length, angle and lumber-name texts are made of. Primes, curly quotes, dashes, spaces, fraction
// glyphs and slashes of Unicode come out as their plain kinds, so the readers know only one spelling of each.

/// A ratio of two whole numbers, each exact in a double as long as the text had at most 15 digits, zeros before them
/// not counted.
struct Ratio {
    double num = 0.0;
    double den = 1.0;
    [[nodiscard]] double value() const { return num / den; }
    /// Nothing where the text had more digits than a double holds.
    [[nodiscard]] std::optional<WholeRatio> exact() const { return WholeRatio::of(num, den); }
};

struct Token {
    enum class Kind {
        number,
        fraction,
        dash,
        plus,
        comma,
        slash,
        single_mark,
        double_mark,
        degree,
        percent,
        times,
        word,
        other,
        end
    };
    Kind kind = Kind::end;
    bool after_space = false;  ///< white space stood before it
    bool glyph = false;        ///< a fraction that needs nothing before it to be told from the digits: ½ or ³⁄₁₆
    Ratio ratio;               ///< of a number or fraction; a fraction is not reduced and its den is not 0
    double last_unit = 1.0;    ///< one unit of the last digit or fraction given: 1, 0.1, 1/16
    bool whole = false;        ///< a number written without a decimal point
    std::string text;          ///< of a number as written; of a word in lower case (ASCII letters), a dot after it dropped
};

/// Splits `text` into tokens; the last is always `end`. Never throws on any bytes: what is not known is `other`.
/// '' is one double mark; digits/digits without spaces is one fraction; × and the word x are `times`.
std::vector<Token> scan_text(std::string_view text);

/// A whole number, decimal, fraction, or whole number with fraction (`5 1/2`, `5-1/2`, `5½`).
struct Quantity {
    Ratio ratio;
    double last_unit = 1.0;
    bool whole = false;  ///< a whole number alone, without decimal point
    bool has_fraction = false;
    bool dashed = false;    ///< whole number and fraction joined by a dash
    bool improper = false;  ///< the fraction is 1 or more: `5/4`, `161/4`, `3 7/4`
};

/// Reads a quantity at `tokens[at]` and moves `at` behind it; false (and `at` unmoved) if none starts there.
bool read_quantity(const std::vector<Token>& tokens, std::size_t& at, Quantity& quantity);

/// A text that cannot be read, as an error without a place. `message` and `fix` get their full stop here.
Finding refused_text(std::string_view code, std::string message, std::string fix);

/// Texts longer than this many bytes are not read.
inline constexpr std::size_t kLongestText = 200;

}  // namespace boardring
