#pragma once
#include <cstddef>
#include <vector>

#include "closure/made_board.hpp"
#include "frame/frame.hpp"

namespace boardring {

/// A number of a board that has to be rounded, and what its two neighbouring steps would move.
struct RoundedNumber {
    enum class What { inside, outside, inside_shoulder, outside_shoulder, slope, shoulder, length };
    What what = What::inside;
    std::size_t end = 0;      ///< 0 first corner, 1 second corner; the length belongs to the end away from the datum
    int other_way = 0;        ///< nudge that takes it to the step on its other side
    double nearest_mm = 0.0;  ///< by how much the nearest step moves it, along the board; for slopes: moves the run
    double other_mm = 0.0;    ///< the same for the other step
};

/// The nudge of that number.
int& nudge_of(BoardNudges& nudges, const RoundedNumber& number);

/// What is rounded to make the board: by marks every mark of it (of a half-lap's end the shoulder's; its end stands proud or short
/// and hinders nothing), else slopes, length and shoulders. What stands on its step already is left out, and so is what has no step
/// on its other side: no cut is steeper than 90 degrees or less than 0.
std::vector<RoundedNumber> rounded_numbers(const Board& board, const Bench& bench);

/// How a piece is turned to be the same as another: ends swapped, inside and outside swapped.
struct PieceTurn {
    bool ends_swapped = false;
    bool edges_swapped = false;
};

/// The nudges that make `board` the same piece as `first` with its nudges, each counted from its own datum.
/// \param board, first  the same piece but for `turn` (cutlist/grouping)
BoardNudges nudges_like(const Board& first, const BoardNudges& nudges, const Board& board, const PieceTurn& turn, const Bench& bench);

}  // namespace boardring
