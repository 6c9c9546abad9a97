#include "joinery/free_end.hpp"

#include <cmath>

#include "base/angle.hpp"
#include "base/ensure.hpp"

namespace boardring {

EndCut free_end(double saw_deg, BoardInPlan board) {
    ENSURE(std::abs(saw_deg) < kSteepestFreeEndDeg && board.width_mm > 0.0);
    const double slope = tan_deg(saw_deg);
    EndCut cut;
    cut.inside_mm = 0.0 - board.offset_mm * slope;
    cut.outside_mm = 0.0 - (board.offset_mm + board.width_mm) * slope;
    cut.run_mm = board.width_mm * slope;
    cut.saw_deg = saw_deg;
    cut.face_mm = board.width_mm / cos_deg(saw_deg);
    cut.square_first_mm = 0.0 - cut.run_mm;
    return cut;
}

}  // namespace boardring
