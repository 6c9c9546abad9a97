#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "frame/frame.hpp"
#include "project/project.hpp"

namespace boardring {

/// One end of a board as somebody makes it. Marks are x along the board as in BoardEnd.
struct MadeEnd {
    struct Shoulder {
        double inside_mm = 0.0;
        double outside_mm = 0.0;
        double run_mm = 0.0;  ///< outside beyond inside towards this end, as for the end itself
    };
    double inside_mm = 0.0;
    double outside_mm = 0.0;
    double run_mm = 0.0;  ///< outside beyond inside towards this end; slope = run / width
    std::optional<Shoulder> shoulder;  ///< half-laps
};

/// A board as somebody makes it: straight edges at the frame's offsets, ends of its own. One that tapers has at each end the width
/// and offset of that end; a mark that moves along a leaning edge stays at that end's, off by the taper times the move.
struct MadeBoard {
    double offset_mm = 0.0;
    double width_mm = 0.0;
    std::array<MadeEnd, 2> ends;
    double taper_mm = 0.0;  ///< as Board's
    double drift_mm = 0.0;

    [[nodiscard]] double width_at(std::size_t end) const { return end == 0 ? width_mm : width_mm + taper_mm; }
    [[nodiscard]] double offset_at(std::size_t end) const { return end == 0 ? offset_mm : offset_mm + drift_mm; }
};

/// One single deviation: this end of this board is made so, all else is exact.
struct Deviation {
    std::size_t end = 0;
    const char* what = "";  ///< see WorstRounding::what
    double moved = 0.0;     ///< see WorstRounding::moved
    MadeEnd made;
};

/// How boards are shown and rounded: the rule counts from the datum, a square line at the leftmost mark of the board as
/// it lies before the maker; with clockwise letters the board's second end lies at the left.
struct Bench {
    double rule_step_mm = 0.5;
    double saw_step_deg = 0.5;
    double scale_at_square_deg = 0.0;  ///< 90: the scale shows 90 - |S|, and that is what is rounded
    SlopeBy slope_by = SlopeBy::bevel;
    double bevel_base_mm = 300.0;
    bool second_end_left = false;

    static Bench of(const Tools& tools, const Frame& frame);
};

/// By how many steps the numbers of an end are set beside the step nearest to them; 0 everywhere is plain rounding.
struct EndNudges {
    int inside = 0, outside = 0;                    ///< marks, + to the maker's right
    int inside_shoulder = 0, outside_shoulder = 0;  ///< half-laps, marks of the shoulder likewise
    int slope = 0;                                  ///< + steeper: steps of the saw, or of the bevel's rise; unused by marks
    int shoulder = 0;                               ///< the one mark of a shoulder whose slope is set
    friend bool operator==(const EndNudges&, const EndNudges&) = default;
};

/// The same for a whole board. What is measured is by hand of `Bench::slope_by`: by marks all marks, else slopes and length.
struct BoardNudges {
    std::array<EndNudges, 2> ends;
    int length = 0;  ///< long point to long point; unused by marks
    friend bool operator==(const BoardNudges&, const BoardNudges&) = default;
};

/// The board without any rounding.
MadeBoard exact_board(const Board& board);
/// All boards of the frame so.
std::vector<MadeBoard> exact_boards(const Frame& frame);

/// Every mark (four, and four of the shoulders) rounded to the rule's step, each counted from the datum.
MadeBoard marked_board(const Board& board, const Bench& bench, const BoardNudges& nudges = {});

/// Slopes as set, long points as marked: the long point of the left end is the datum; that of the right end lies the rounded
/// long-point length from it; the other mark of each end follows from the slope. Shoulders get the slope of their end and one
/// mark rounded from the datum, on the edge of the end's long point.
MadeBoard set_board(const Board& board, const Bench& bench, const BoardNudges& nudges = {});

/// The board with the marks and shoulders of a made one; runs follow, slopes in degrees stay.
Board board_as_made(Board board, const MadeBoard& made);

/// |S| as it can be set [deg], with the sign of `saw_deg`; always within (-90, 90).
/// \param nudge  steps beside the nearest, + steeper
double set_saw_deg(double saw_deg, const Bench& bench, int nudge = 0);

/// The roundings of `marked_board` one by one; marks that do not move are left out.
std::vector<Deviation> marked_deviations(const Board& board, const Bench& bench, const BoardNudges& nudges = {});

/// The roundings of `set_board` one by one (slope of each end, length, shoulders); what does not move is left out.
std::vector<Deviation> set_deviations(const Board& board, const Bench& bench, const BoardNudges& nudges = {});

}  // namespace boardring
