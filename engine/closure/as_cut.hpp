#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "frame/frame.hpp"
#include "project/as_cut.hpp"

namespace boardring {

/// The shape of a mitred board: its inside edge, and at both ends how far the outside mark lies beyond the inside one (towards
/// that end).
struct BoardShape {
    double inside_mm = 0.0;
    std::array<double, 2> run_mm{};

    static BoardShape of(const Board& board) { return {board.inside_length_mm(), {board.ends[0].run_mm, board.ends[1].run_mm}}; }
    [[nodiscard]] double outside_mm() const { return inside_mm + run_mm[0] + run_mm[1]; }
    /// Leftmost to rightmost mark, and the shortest distance between the end cuts along an edge.
    [[nodiscard]] double long_mm() const;
    [[nodiscard]] double short_mm() const;
};

/// How well was measured, standard deviations.
struct MeasuredTo {
    double length_mm = 0.5;
    double angle_deg = 0.2;
};

/// The shape of a board as measured. What was measured is taken as it is, what was not as planned:
///   one length           the slopes stay (as measured or planned), the inside edge follows
///   both                 what both say of the slopes is shared by the ends that were not measured themselves
///   both and both slopes one number too many: the difference is shared out by what each may be out by
/// Slopes lean the way they are planned to.
BoardShape shape_as_cut(const Board& planned, const AsCutBoard& measured, const MeasuredTo& to);

/// Turn of the joint at which `before` ends and `after` starts, face on face [deg].
double turn_face_to_face(double run_before_mm, double width_before_mm, double run_after_mm, double width_after_mm);

/// Lengths and slopes of cut boards made to agree with diagonals measured across them: the least change that does, weighted by
/// what each may be out by, diagonals included.
/// \param shapes  one per board, empty where it is not cut
/// \return indices of diagonals whose corners no row of cut boards joins: those are left out
std::vector<std::size_t> settle_diagonals(const Frame& frame, std::vector<std::optional<BoardShape>>& shapes,
                                          const std::vector<AsCutDiagonal>& diagonals, const MeasuredTo& to);

}  // namespace boardring
