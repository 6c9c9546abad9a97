#pragma once
#include <cmath>
#include <cstddef>

#include "base/length_text.hpp"
#include "closure/made_board.hpp"
#include "frame/frame.hpp"

namespace boardring {

// What a maker reads of a board with the rule laid on it; shared by the files of this room that round.

/// A rounding that moves less than this [mm or deg] is the last digits of a mark that stood on the rule's step already.
inline constexpr double kMoves = 1e-9;

inline bool outside_longer(const BoardEnd& end) { return end.run_mm >= 0.0; }
inline double long_mark_mm(const BoardEnd& end) { return outside_longer(end) ? end.outside_mm : end.inside_mm; }
inline std::size_t left_end(const Bench& bench) { return bench.second_end_left ? 1 : 0; }

/// The rule counts from the datum, a square line at the long point of the left end, + to the right of the maker. A nudge is a number of
/// steps beside the nearest one.
class Rule {
public:
    Rule(const Board& board, const Bench& bench)
        : step_mm_(bench.rule_step_mm),
          sign_(bench.second_end_left ? -1.0 : 1.0),
          datum_mm_(long_mark_mm(board.ends[left_end(bench)])) {}

    [[nodiscard]] double read_mm(double x_mm) const { return sign_ * (x_mm - datum_mm_); }
    [[nodiscard]] double rounded_mm(double x_mm, int nudge) const {
        return rounded_to_step(read_mm(x_mm), step_mm_) + nudge * step_mm_;
    }
    [[nodiscard]] double rounded_x_mm(double x_mm, int nudge) const { return datum_mm_ + sign_ * rounded_mm(x_mm, nudge); }
    /// How far rounding moves the mark, + to the maker's right.
    [[nodiscard]] double moved_mm(double x_mm, int nudge) const { return rounded_mm(x_mm, nudge) - read_mm(x_mm); }
    /// The reading in whole steps.
    [[nodiscard]] long steps(double x_mm, int nudge) const { return std::lround(rounded_mm(x_mm, nudge) / step_mm_); }

private:
    double step_mm_;
    double sign_;
    double datum_mm_;
};

}  // namespace boardring
