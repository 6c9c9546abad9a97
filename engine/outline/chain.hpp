#pragma once
#include <cmath>
#include <cstddef>
#include <vector>

#include "base/vec2.hpp"

namespace boardring {

/// A running sum that keeps what each addition rounds off (Neumaier): n terms cost one rounding, not n.
class CarefulSum {
public:
    void add(double term) {
        const double sum = sum_ + term;
        lost_ += std::abs(sum_) >= std::abs(term) ? (sum_ - sum) + term : (term - sum) + sum_;
        sum_ = sum;
    }
    [[nodiscard]] double value() const { return sum_ + lost_; }

private:
    double sum_ = 0.0;
    double lost_ = 0.0;
};

/// Sides and angles one after another, as read or as adjusted. n sides; closed: n angles, angle k at the corner where side k
/// starts; open: n + 1 angles, the first and last unused (180).
struct Chain {
    bool closed = true;
    std::vector<double> sides_mm;
    std::vector<double> interior_deg;
    std::vector<double> side_within_mm;    ///< how far the true side may be from the given one: half a last digit, or the own +-
    std::vector<double> angle_within_deg;  ///< the same for the angles

    [[nodiscard]] std::size_t sides() const { return sides_mm.size(); }
};

/// The chain walked from the origin, side 0 along +x.
struct Walk {
    std::vector<Vec2> corners_mm;       ///< closed: n starts of sides; open: n + 1 with the last end
    std::vector<double> direction_deg;  ///< of each side, in (-180, 180]
    std::vector<Vec2> along;            ///< unit direction of each side
    Vec2 end_mm;                        ///< where the last side ends; closed chains should be back at the origin
};

/// Walks the chain. Turns are formed in degrees, directions added up in degrees, places in mm, all sums careful.
/// Error: each corner within 1e-9 of the largest coordinate, up to 100,000 sides [chain_test, against a long double walk].
Walk walk(const Chain& chain);

/// Sum of the sides.
double perimeter_mm(const Chain& chain);

/// Sum of the angles less (n - 2) * 180; closed chains only.
double angle_misfit_deg(const Chain& chain);

/// The chain with the misfit of its angle sum taken off all corners in equal shares.
Chain with_equal_shares(Chain chain);

}  // namespace boardring
