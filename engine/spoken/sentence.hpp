#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/finding.hpp"
#include "spoken/draft.hpp"

namespace boardring {

/// One phrase and what was made of it.
struct HeardPhrase {
    std::string said;   ///< as written
    std::string means;  ///< in the maker's words
};

/// Phrases, heard. Nothing is said of what is missing: an interview asks for it, a sentence is told by `read_sentence`.
struct PhrasesHeard {
    Draft draft;
    std::vector<HeardPhrase> phrases;
    Findings findings;  ///< every word not known, number not placed, thing said twice; in the order said
};

/// Reads phrases, in any order, parted by commas or not: `hexagon 640 inside flats, 145x38 on edge, two courses, one 28`.
/// A unit named by any length is what the plain numbers are in, if it is inches or feet; plain numbers are mm otherwise.
/// An interview may join its answers with commas and read the whole: so an answer and a phrase cannot mean two things.
/// Findings, all errors, pointer "":
///   sentence.unknown-word  names the word and the nearest known one
///   sentence.ambiguous     both readings named
///   sentence.said-twice    two sizes, two shapes
///   sentence.number        a number no phrase takes, or out of its range
///   sentence.does-not-fit  see `complete`
///   sentence.too-long, sentence.characters  more than kLongestSentence bytes; a character that cannot be shown
///   length.*, angle.*      as parse_length and parse_angle
/// Never throws on any bytes; time is linear in the text [sentence_test]
PhrasesHeard hear_phrases(std::string_view text);

inline constexpr std::size_t kLongestSentence = 2000;

/// A sentence read the whole way.
struct SentenceRead {
    std::string project_text;           ///< of the file; "" if any finding is an error
    std::string name;                   ///< for the file, without folder and ending: `hexagon-640`
    std::vector<HeardPhrase> phrases;
    std::vector<std::string> assumed;   ///< what was not said and the sentence filled in; the project's own defaults come on top
    Findings findings;
};
SentenceRead read_sentence(std::string_view text);

/// True if the text is meant as a sentence rather than as the name of a file: it holds a blank, or its one word is a shape.
bool looks_like_sentence(std::string_view text);

}  // namespace boardring
