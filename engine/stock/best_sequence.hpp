#pragma once
#include <cstddef>
#include <vector>

#include "stock/end_line.hpp"
#include "stock/sequence.hpp"
#include "stock/strip.hpp"

namespace boardring {

/// A short order of pieces on one bar; `exact`: none is shorter.
struct BestSequence {
    Sequence sequence;
    bool exact = false;
};

/// Multisets a single bar's table may hold: its cost grows with them.
inline constexpr std::size_t kMostSetsOfOneBar = 60'000;

/// The shortest order found: along the line of ends where that is as short as can be; by the exact table where it has no more than
/// `most_sets` multisets; else along the line or by insertion, sometimes longer than need be, never shorter than what it says.
BestSequence best_sequence(const EndLine& line, const Counts& counts, std::size_t most_sets = kMostSetsOfOneBar);
BestSequence best_sequence(const Strip& strip, const std::vector<StripPiece>& kinds, const Counts& counts);

/// Whether some order needs no more than a bar has.
struct Fit {
    enum class Answer { fits, too_long, unsure };
    Answer answer = Answer::unsure;
    std::size_t sets_tried = 0;  ///< multisets the exact table went through
};

/// Tries the quick orders before the exact table. \param most_sets  as above; beyond it the answer may be "unsure"
Fit fits_in(const EndLine& line, const Counts& counts, double usable_mm, std::size_t most_sets);

}  // namespace boardring
