#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "project/project.hpp"

namespace boardring {

/// What a word of a sentence does. One value a meaning; words that mean the same share it.
enum class Sense {
    regular, square, rectangle, ell, u_shape, tee, ring, half, part_ring, arch, window, door, thing,         // the shape
    inside, outside, middle, over_all,       flats, points, side, sides, inscribed, circumscribed,     // how it is measured
    radius, diameter, span, rise, wide, high, length, by, notch, from_left,                            // its sizes
    pieces, fits_flats, fits_corners, head, legs, sill, no, open_ends,                                 // its parts
    board, thick, on_edge, flat, course, species, surface, on_sale, price, own,                        // the boards
    mitre, butt, half_lap, joint, through, margin,                                                     // how they meet
    kerf, tilt, swing, stop, step, reads, preset,                                                      // the tools
    gap, spare, last, leave_long, called, clockwise, from_room,                                        // what else is wanted
    fits_round, stands_on, about, litres, as_large,                                                    // sizes from a wish
    unit, filler
};

/// One row of the grammar's words. The parser, "I know ..." and the list in docs/sentences.md are all made from these rows.
struct SpokenWord {
    std::string_view word;      ///< as people say it, lower case, one to six words
    std::string_view synonyms;  ///< parted by commas; "" if there is none
    Sense sense = Sense::filler;
    int value = 0;              ///< corners of a regular ring, degrees of a part ring, which of a list, in the order of its enum; 0 where none is needed
    std::string_view means;     ///< for the word list; "" in rows that only lead to another (fillers)
    std::string_view example;   ///< a phrase that uses it
};

const std::vector<SpokenWord>& word_table();

/// The row whose word or synonym stands at `words[at]` and how many words it takes; the longest wins. Null if there is none.
struct WordFound {
    const SpokenWord* row = nullptr;
    std::size_t count = 0;
};
WordFound find_word(const std::vector<std::string>& words, std::size_t at);

/// The kind of joint a row stands for; nothing for another row, or none (null).
std::optional<JointKind> joint_of(const SpokenWord* row);

/// Number words: one to twenty; 0 for any other word.
int spelled_number(std::string_view word);

/// What a regular ring of so many boards is called: `hexagon`, `11-sided ring`.
std::string regular_name(std::size_t corners);

/// Every single word the table holds, for finding the nearest to a mistyped one.
const std::vector<std::string_view>& known_words();

/// The shape whose name is nearest to a mistyped word (base/suggest.hpp), or null.
const SpokenWord* nearest_shape(std::string_view word);

/// The word list as it stands in docs/sentences.md: a Markdown table.
std::string word_list_markdown();

/// The word list for a terminal: word, meaning, example.
std::string word_list();

/// The words in short, for `--help` and for a sentence with no shape.
std::string known_shapes();

}  // namespace boardring
