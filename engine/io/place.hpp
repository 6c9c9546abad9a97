#pragma once
#include <cstddef>
#include <string_view>

namespace boardring {

/// Where something stands in a text file.
struct Place {
    int line = 0;    ///< from 1; 0 = not known
    int column = 0;  ///< from 1, in characters (code points)
    friend constexpr bool operator==(const Place&, const Place&) = default;
};

/// Turns byte offsets of one text into places. Asked for offsets in growing order it walks the text once; asked to go back it
/// starts again from the top. A leading byte order mark takes no column.
class PlaceFinder {
public:
    explicit PlaceFinder(std::string_view text);
    /// Place of the character at byte `offset`; offsets past the end give the place just behind the last character.
    Place at(std::size_t offset);

private:
    std::string_view text_;
    std::size_t offset_ = 0;
    Place place_;
};

}  // namespace boardring
