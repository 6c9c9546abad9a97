#include "outline/taped_corner.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"

namespace boardring {
namespace {

// tan(I/2)^2 = (s - a)(s - b) / (s (s - c)) with a the longer leg, each bracket formed so that what is taken away first is exact
// wherever the rest nearly cancels it (W. Kahan, "Miscalculating area and angles of a needle-like triangle").
double angle_deg(double one, double other, double c) {
    const double a = std::max(one, other), b = std::min(one, other);
    const double slack = b >= c ? c - (a - b) : b - (a - c);
    const double low = ((a - b) + c) * std::max(0.0, slack);
    const double high = (a + (b + c)) * std::max(0.0, (a - c) + b);
    return degrees(2.0 * std::atan2(std::sqrt(low), std::sqrt(high)));
}

}  // namespace

std::optional<TapedCorner> taped_corner(double one_mm, double other_mm, double across_mm) {
    if (!(one_mm > 0.0 && other_mm > 0.0 && across_mm > 0.0)) return std::nullopt;
    if (across_mm > one_mm + other_mm || across_mm < std::abs(one_mm - other_mm)) return std::nullopt;
    TapedCorner corner;
    corner.interior_deg = angle_deg(one_mm, other_mm, across_mm);
    if (!(corner.interior_deg > 0.0)) return std::nullopt;
    // One millimetre either way of each tape: differences, so that flat triangles give what really happens.
    double squares = 0.0;
    const double h = std::min({1.0, 0.5 * one_mm, 0.5 * other_mm, 0.5 * across_mm});
    for (int tape = 0; tape < 3; ++tape) {
        const auto with = [&](double by) {
            return angle_deg(one_mm + (tape == 0 ? by : 0.0), other_mm + (tape == 1 ? by : 0.0), across_mm + (tape == 2 ? by : 0.0));
        };
        const double up = std::abs(with(h) - corner.interior_deg), down = std::abs(corner.interior_deg - with(-h));
        const double slope = std::max(up, down) / h;
        squares += slope * slope;
    }
    corner.deg_per_mm = std::sqrt(squares);
    return corner;
}

}  // namespace boardring
