#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "io/fields.hpp"
#include "io/reading_words.hpp"

// A line of the notebook, split into its parts before anything of it is read as a length or an angle: "AB 900",
// "A-C 1423 +-3", "E 90 inward", "AB bow 6 inward". Two letters are a distance, or one corner of a ring of more than 26;
// which of the two shows only when all lines are split.

namespace boardring {

/// What a reading ought to look like, for the end of a finding.
inline constexpr std::string_view kReadingExample =
    "Write \"AB 900\" for a side, \"AC 1423\" for a length straight across, \"A 108\" for an angle.";

/// A line split into its parts; all are views into the text of the file.
struct ReadingLine {
    Spot spot;
    std::string_view first;   ///< letters
    std::string_view second;  ///< letters behind a dash, else empty
    std::string_view value;
    std::string_view accuracy;  ///< behind the +-, else empty
    bool has_accuracy = false;
    bool inward = false;
    bool outward = false;
    ReadingWord word = ReadingWord::none;
};

/// Nothing, and a finding, if the line does not start with letters of corners.
std::optional<ReadingLine> split_reading(Job& job, const Spot& spot);

/// A line with its corners found.
struct NamedLine {
    ReadingLine line;
    bool is_angle = false;   ///< of one corner, which is `first` and `second`
    std::size_t first = 0;   ///< index of a corner
    std::size_t second = 0;
};

/// Two letters without a dash are two corners, unless the ring has corners beyond Z (`beyond_z`): then they are one.
std::optional<NamedLine> name_corners(Job& job, const ReadingLine& line, bool beyond_z);

/// Without the blanks and tabs at both ends.
std::string_view without_blanks(std::string_view text);
/// Takes the letters a-z and A-Z off the front of the text.
std::string_view take_letters(std::string_view& text);

}  // namespace boardring
