#include "joinery/cut_along.hpp"

#include <cmath>

#include "base/angle.hpp"

namespace boardring {

double far_offset_mm(double turn_deg, BoardInPlan board) {
    return turn_deg > 0.0 ? board.offset_mm + board.width_mm : board.offset_mm;
}

double near_offset_mm(double turn_deg, BoardInPlan board) {
    return turn_deg > 0.0 ? board.offset_mm : board.offset_mm + board.width_mm;
}

EndCut cut_along(double turn_deg, BoardInPlan own, double along_mm) {
    EndCut cut;
    cut.inside_mm = line_crossing_mm(own.offset_mm, along_mm, turn_deg);
    cut.outside_mm = line_crossing_mm(own.offset_mm + own.width_mm, along_mm, turn_deg);
    const double sine = sin_deg(turn_deg);
    cut.square_first_mm = own.width_mm * cos_deg(turn_deg) / sine;
    cut.run_mm = 0.0 - cut.square_first_mm;
    cut.saw_deg = turn_deg > 0.0 ? turn_deg - 90.0 : turn_deg + 90.0;
    cut.face_mm = own.width_mm / std::abs(sine);
    return cut;
}

}  // namespace boardring
