#include "stock/strip.hpp"

#include <algorithm>
#include <cmath>

namespace boardring {

StripEnds turned_ends(const StripPiece& piece, Turning turning) {
    const double a = piece.left_run_mm;
    const double b = piece.right_run_mm;
    switch (turning) {
        case Turning::as_first: return {a, b};
        case Turning::top_to_bottom: return {-b, -a};
        case Turning::edge_for_edge: return {-a, -b};
        case Turning::end_for_end: return {b, a};
    }
    return {a, b};
}

double kerf_along_mm(const Strip& strip, double run_mm) {
    const double slope = run_mm / strip.width_mm;
    return strip.kerf_mm * std::sqrt(1.0 + slope * slope);
}

double loss_between_mm(const Strip& strip, double right_run_mm, double left_run_mm) {
    return std::abs(right_run_mm - left_run_mm) / 2.0 +
           std::max(kerf_along_mm(strip, right_run_mm), kerf_along_mm(strip, left_run_mm));
}

double loss_at_end_mm(const Strip& strip, double run_mm) {
    return std::abs(run_mm) / 2.0 + (strip.kerf_at_ends ? kerf_along_mm(strip, run_mm) : 0.0);
}

}  // namespace boardring
