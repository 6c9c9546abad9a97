#pragma once
#include <optional>
#include <string_view>

namespace boardring {

/// What a line of the notebook measures where that is no length and no angle by itself.
enum class ReadingWord {
    none,
    fall,   ///< "AB fall 5": B lies 5 lower than A
    rise,   ///< "AB rise 5"
    level,  ///< "AB level"
    right,  ///< "BC right 4": C stands 4 to the right of B
    left,   ///< "BC left 4"
    plumb,  ///< "BC plumb"
    to,     ///< "BC to DA 898": from the middle of one side to the middle of another
    bow,    ///< "AB bow 6 inward", "AB bow 6 outward"
    sill,   ///< "AB sill", "AB bottom": the side at the bottom
    head,   ///< "CD head", "CD top"
    tie,    ///< "B tie 900 1200 1497": marks 900 and 1200 along the legs, 1497 apart
};

/// Takes such a word, with its "-s" and a ":" behind it or not, off the front of a value: " fall 5" leaves "5".
ReadingWord take_reading_word(std::string_view& value);

}  // namespace boardring
