#include "closure/linear_bound.hpp"

#include <algorithm>
#include <cmath>

namespace boardring {
namespace {

double inner(const Miss& a, const Miss& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
Miss across(const Miss& a, const Miss& b) { return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]}; }

// One choice after the other moved to where the sum of squares is least. Where all can be brought to nothing this gets there.
bool nothing_need_be_left(const Miss& base, const std::vector<Miss>& change, double nothing_mm) {
    constexpr int kSweeps = 200;
    std::vector<double> x(change.size(), 0.5);
    Miss left = base;
    for (const Miss& c : change) {
        for (std::size_t r = 0; r < 3; ++r) left[r] += 0.5 * c[r];
    }
    for (int sweep = 0; sweep < kSweeps; ++sweep) {
        for (std::size_t i = 0; i < change.size(); ++i) {
            const double square = inner(change[i], change[i]);
            if (!(square > 0.0)) continue;
            const double to = std::clamp(x[i] - inner(left, change[i]) / square, 0.0, 1.0);
            for (std::size_t r = 0; r < 3; ++r) left[r] += (to - x[i]) * change[i][r];
            x[i] = to;
        }
        if (widest_of(left) <= nothing_mm) return true;
    }
    return false;
}

// What the direction y proves, whatever its length.
double proved_mm(const Miss& base, const std::vector<Miss>& change, const Miss& y) {
    const double size = std::abs(y[0]) + std::abs(y[1]) + std::abs(y[2]);
    if (!(size > 0.0)) return 0.0;
    double least = inner(y, base);
    for (const Miss& c : change) least += std::min(0.0, inner(y, c));
    return least / size;
}

}  // namespace

double linear_bound_mm(const Miss& base, const std::vector<Miss>& change) {
    double scale_mm = widest_of(base);
    for (const Miss& c : change) scale_mm = std::max(scale_mm, widest_of(c));
    if (nothing_need_be_left(base, change, 1e-9 * scale_mm)) return 0.0;
    // Maximise y.base + sum of min(0, y.change_i) over |y_1| + |y_2| + |y_3| <= 1: linear between the planes y.change_i = 0 and
    // y_r = 0, so the best y lies on two of them.
    std::vector<Miss> planes(change);
    planes.push_back({1.0, 0.0, 0.0});
    planes.push_back({0.0, 1.0, 0.0});
    planes.push_back({0.0, 0.0, 1.0});
    double bound_mm = 0.0;
    for (std::size_t i = 0; i < planes.size(); ++i) {
        for (std::size_t k = 0; k < i; ++k) {
            Miss y = across(planes[i], planes[k]);
            bound_mm = std::max(bound_mm, proved_mm(base, change, y));
            for (double& part : y) part = -part;
            bound_mm = std::max(bound_mm, proved_mm(base, change, y));
        }
    }
    return bound_mm;
}

}  // namespace boardring
