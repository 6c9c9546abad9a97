#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/finding.hpp"
#include "io/fields.hpp"

// Single values of a project file, each checked against what is allowed at its place. A value at fault is a finding of the job
// and nothing is given.

namespace boardring {

/// Limits of a length [mm].
struct LengthLimits {
    double low_mm = 0.0;
    double high_mm = 0.0;
    bool low_allowed = true;  ///< the lower limit itself is allowed
    Measures measures = Measures::other;
};

inline constexpr double kLongestMm = 1e6;
// Nobody saws less: a size below these is a slip, and would be shown as 0.
inline constexpr double kShortestMm = 1.0;
inline constexpr double kThinnestBoardMm = 0.5;
inline constexpr LengthLimits kOutlineSize{kShortestMm, kLongestMm, true, Measures::outline};
inline constexpr LengthLimits kBoardWidth{kThinnestBoardMm, 1e4, true, Measures::width};
inline constexpr LengthLimits kBoardThickness{kThinnestBoardMm, 1e4, true, Measures::thickness};
inline constexpr LengthLimits kPieceLength{kShortestMm, kLongestMm, true};
inline constexpr LengthLimits kPositiveLength{0.0, kLongestMm, false};
inline constexpr LengthLimits kSignedLength{-kLongestMm, kLongestMm};

/// Limits of an angle [deg] or of a plain number.
struct NumberLimits {
    double low = 0.0;
    double high = 0.0;
    bool low_allowed = true;
    bool high_allowed = true;
};

struct CountLimits {
    std::size_t low = 0;
    std::size_t high = 0;
};

/// A length: a plain number in the job's unit, or text with or without its own unit. mm.
std::optional<double> read_length(Job& job, const Spot& spot, const LengthLimits& limits);
/// An angle: a plain number of degrees, or text. Degrees.
std::optional<double> read_angle(Job& job, const Spot& spot, const NumberLimits& limits);
std::optional<double> read_number(Job& job, const Spot& spot, const NumberLimits& limits);
/// A whole number; 3.0 is 3, "3" is not.
std::optional<std::size_t> read_count(Job& job, const Spot& spot, const CountLimits& limits);
std::optional<bool> read_flag(Job& job, const Spot& spot);
/// Text of `least` to `most` characters without control characters.
std::optional<std::string> read_text(Job& job, const Spot& spot, std::size_t least, std::size_t most);
/// A list (empty ones are a finding unless allowed); gives the number of its items.
std::optional<std::size_t> read_list(Job& job, const Spot& spot, std::size_t least, std::size_t most, std::string_view items);
/// Index of the word among the allowed ones.
std::optional<std::size_t> read_word(Job& job, const Spot& spot, const std::vector<std::string_view>& allowed);

/// The choice whose word, in the order of the enumeration's values, stands at `spot`.
template <class Choice>
std::optional<Choice> read_choice(Job& job, const Spot& spot, const std::vector<std::string_view>& words_in_order) {
    const auto index = read_word(job, spot, words_in_order);
    if (!index) return std::nullopt;
    return static_cast<Choice>(*index);
}

/// Takes over what a reader of length or angle text found; such a reader knows no place, `spot` does.
void take_text_findings(Job& job, const Spot& spot, const Findings& findings);

}  // namespace boardring
