#include "outline/adjust.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "base/angle.hpp"

namespace boardring {
namespace {

// Notation (docs/theory/outline.md section 3)
//   v_i   correction of value i (sides, then angles), t_i its bound, y_i = v_i / t_i
//   b_i   column of value i in the closure conditions, times t_i; rows: angle sum [rad], x, y [parts of the perimeter]
//   r     what the corrections must bring: sum of b_i y_i = r
//   l     multipliers: y_i = clamp(b_i . l, -1, 1)

using Vec3 = std::array<double, 3>;
using Mat3 = std::array<Vec3, 3>;

constexpr double kClosed = 1e-13;  // of the perimeter; what is asked for is 1e-12
constexpr double kAngleSumDeg = 1e-10;
constexpr double kBoundSlack = 1e-9;  // an honest half is just allowed

double dot3(const Vec3& a, const Vec3& b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

// Solves m x = r, m symmetric and positive semidefinite, by elimination with the largest diagonal first. Directions the
// values cannot move (pivot lost in rounding) get no multiplier.
Vec3 solve_semidefinite(Mat3 m, Vec3 r) {
    Vec3 scale{};
    for (std::size_t i = 0; i < 3; ++i) scale[i] = m[i][i] > 0.0 ? 1.0 / std::sqrt(m[i][i]) : 0.0;
    for (std::size_t i = 0; i < 3; ++i) {
        r[i] *= scale[i];
        for (std::size_t j = 0; j < 3; ++j) m[i][j] *= scale[i] * scale[j];
    }
    std::array<bool, 3> used{};
    std::array<std::size_t, 3> order{};
    std::size_t rank = 0;
    for (; rank < 3; ++rank) {
        std::size_t p = 3;
        for (std::size_t i = 0; i < 3; ++i) {
            if (!used[i] && (p == 3 || m[i][i] > m[p][p])) p = i;
        }
        if (m[p][p] < 1e-14) break;
        used[p] = true;
        order[rank] = p;
        for (std::size_t i = 0; i < 3; ++i) {
            if (used[i]) continue;
            const double factor = m[i][p] / m[p][p];
            for (std::size_t j = 0; j < 3; ++j) m[i][j] -= factor * m[p][j];
            r[i] -= factor * r[p];
        }
    }
    Vec3 x{};
    for (std::size_t k = rank; k-- > 0;) {
        const std::size_t p = order[k];
        double rest = r[p];
        for (std::size_t later = k + 1; later < rank; ++later) rest -= m[p][order[later]] * x[order[later]];
        x[p] = rest / m[p][p];
    }
    for (std::size_t i = 0; i < 3; ++i) x[i] *= scale[i];
    return x;
}

Mat3 normal_matrix(const std::vector<Vec3>& b, const Vec3* l) {
    Mat3 m{};
    for (const Vec3& c : b) {
        if (l != nullptr && std::abs(dot3(c, *l)) > 1.0) continue;
        for (std::size_t i = 0; i < 3; ++i) {
            for (std::size_t j = 0; j < 3; ++j) m[i][j] += c[i] * c[j];
        }
    }
    return m;
}

Vec3 reached(const std::vector<Vec3>& b, const Vec3& l) {
    Vec3 sum{};
    for (const Vec3& c : b) {
        const double y = std::clamp(dot3(c, l), -1.0, 1.0);
        for (std::size_t i = 0; i < 3; ++i) sum[i] += c[i] * y;
    }
    return sum;
}

// True if even with every value at its bound the conditions stay out of reach: l proves it (Farkas).
bool proves_impossible(const std::vector<Vec3>& b, const Vec3& r, const Vec3& l) {
    double most = 0.0;
    for (const Vec3& c : b) most += std::abs(dot3(c, l));
    return dot3(r, l) > most * (1.0 + kBoundSlack);
}

Vec3 moved_by(const Vec3& l, double part, const Vec3& way) {
    return {l[0] + part * way[0], l[1] + part * way[1], l[2] + part * way[2]};
}

Vec3 missing(const std::vector<Vec3>& b, const Vec3& r, const Vec3& l) {
    const Vec3 sum = reached(b, l);
    return {r[0] - sum[0], r[1] - sum[1], r[2] - sum[2]};
}

// Multipliers of the bounded least squares, or nothing if no y within +-1 does it. Newton's method on the dual, a concave
// function of l whose gradient is what is still missing; each step goes on until the slope along it has lost half its size, found
// by its sign: values of the dual itself are too flat near the top to compare.
std::optional<Vec3> bounded_multipliers(const std::vector<Vec3>& b, const Vec3& r) {
    const double size = std::sqrt(dot3(r, r));
    const Mat3 all = normal_matrix(b, nullptr);
    Vec3 l{};
    for (int step = 0; step < 100; ++step) {
        const Vec3 gradient = missing(b, r, l);
        if (std::sqrt(dot3(gradient, gradient)) <= 1e-12 * size) return l;
        if (proves_impossible(b, r, l)) return std::nullopt;
        // Values at their bound have no curvature left; a trace of the whole keeps the step finite.
        Mat3 m = normal_matrix(b, &l);
        for (std::size_t i = 0; i < 3; ++i) {
            for (std::size_t j = 0; j < 3; ++j) m[i][j] += 1e-9 * all[i][j];
        }
        const Vec3 way = solve_semidefinite(m, gradient);
        const double slope = dot3(way, gradient);
        if (!(slope > 0.0)) return l;
        double low = 0.0, high = 1.0, part = 1.0;
        for (int halving = 0; halving < 60; ++halving) {
            const double here = dot3(way, missing(b, r, moved_by(l, part, way)));
            if (std::abs(here) <= 0.5 * slope) break;
            if (here > 0.0 && part == 1.0) break;  // still rising at the full step: take it
            (here > 0.0 ? low : high) = part;
            part = 0.5 * (low + high);
        }
        l = moved_by(l, part, way);
    }
    return std::nullopt;
}

// One way of spreading: which values may move, from where.
class Closing {
public:
    Closing(const Chain& start, bool angles_move)
        : start_(start),
          angles_move_(angles_move),
          perimeter_mm_(perimeter_mm(start)),
          side_(start.sides(), 0.0),
          angle_(start.sides(), 0.0) {}

    // Gauss-Newton on the conditions. False if the bounds cannot be kept.
    bool solve() {
        if (!iterate(false)) return false;
        if (within_bounds()) return true;
        return iterate(true) && within_bounds();
    }

    [[nodiscard]] const std::vector<double>& side_mm() const { return side_; }
    [[nodiscard]] const std::vector<double>& angle_deg() const { return angle_; }

private:
    [[nodiscard]] Chain moved() const {
        Chain chain = start_;
        for (std::size_t k = 0; k < chain.sides(); ++k) {
            chain.sides_mm[k] += side_[k];
            chain.interior_deg[k] += angle_[k];
        }
        return chain;
    }

    [[nodiscard]] bool within_bounds() const {
        for (std::size_t k = 0; k < side_.size(); ++k) {
            if (std::abs(side_[k]) > start_.side_within_mm[k] * (1.0 + kBoundSlack)) return false;
            if (angles_move_ && std::abs(angle_[k]) > start_.angle_within_deg[k] * (1.0 + kBoundSlack)) return false;
        }
        return true;
    }

    bool iterate(bool bounded) {
        const std::size_t n = start_.sides();
        double last_off = 0.0;
        for (int step = 0; step < 30; ++step) {
            const Chain chain = moved();
            const Walk walked = walk(chain);
            const double sum_deg = angles_move_ ? angle_misfit_deg(chain) : 0.0;
            const double off = length(walked.end_mm) / perimeter_mm_;
            const bool closes = off <= kClosed && std::abs(sum_deg) <= kAngleSumDeg;
            if (closes && (!bounded || step > 0)) return true;
            if (step > 8 && off >= 0.5 * last_off) return off <= 1e-12 && std::abs(sum_deg) <= kAngleSumDeg;
            last_off = off;

            // Columns at the present place; r asks for the whole correction, so that the least squares are of the whole.
            std::vector<Vec3> b;
            b.reserve(angles_move_ ? 2 * n : n);
            Vec3 r{-radians(sum_deg), -walked.end_mm.x / perimeter_mm_, -walked.end_mm.y / perimeter_mm_};
            for (std::size_t k = 0; k < n; ++k) {
                const Vec2 way = (1.0 / perimeter_mm_) * walked.along[k];
                const double t = start_.side_within_mm[k];
                b.push_back({0.0, t * way.x, t * way.y});
                r[1] += way.x * side_[k];
                r[2] += way.y * side_[k];
            }
            for (std::size_t k = 0; angles_move_ && k < n; ++k) {
                // A larger corner turns less: all that follows swings back about it.
                const Vec2 swing = (-1.0 / perimeter_mm_) * left_of(walked.end_mm - walked.corners_mm[k]);
                const double t = radians(start_.angle_within_deg[k]);
                b.push_back({t, t * swing.x, t * swing.y});
                const double now = radians(angle_[k]);
                r[0] += now;
                r[1] += swing.x * now;
                r[2] += swing.y * now;
            }
            Vec3 l{};
            if (bounded) {
                const std::optional<Vec3> found = bounded_multipliers(b, r);
                if (!found) return false;
                l = *found;
            } else {
                l = solve_semidefinite(normal_matrix(b, nullptr), r);
            }
            for (std::size_t i = 0; i < b.size(); ++i) {
                double y = dot3(b[i], l);
                if (bounded) y = std::clamp(y, -1.0, 1.0);
                if (i < n) {
                    side_[i] = y * start_.side_within_mm[i];
                } else {
                    angle_[i - n] = y * start_.angle_within_deg[i - n];
                }
            }
        }
        return false;
    }

    const Chain& start_;
    bool angles_move_;
    double perimeter_mm_;
    std::vector<double> side_;
    std::vector<double> angle_;
};

}  // namespace

std::optional<Spread> spread_within_digits(const Chain& given) {
    const std::size_t n = given.sides();
    const double misfit_deg = angle_misfit_deg(given);
    double squares = 0.0;
    for (const double within : given.angle_within_deg) squares += within * within;

    // Equal shares even of a sum that is right to the last bits, so that the walk closes in direction as well.
    Spread shares{{}, std::vector<double>(n, 0.0), true};
    bool shares_fit = true;
    for (std::size_t k = 0; k < n; ++k) {
        const double within = given.angle_within_deg[k];
        const bool rounding_only = std::abs(misfit_deg) <= 1e-9;
        const double share = rounding_only ? 1.0 / static_cast<double>(n) : (squares > 0.0 ? within * within / squares : 0.0);
        shares.angle_deg[k] = -misfit_deg * share;
        shares_fit =
            shares_fit && (rounding_only || (within > 0.0 && std::abs(shares.angle_deg[k]) <= within * (1.0 + kBoundSlack)) ||
                           shares.angle_deg[k] == 0.0);
    }
    if (shares_fit && (squares > 0.0 || std::abs(misfit_deg) <= 1e-9)) {
        Chain balanced = given;
        for (std::size_t k = 0; k < n; ++k) balanced.interior_deg[k] += shares.angle_deg[k];
        Closing by_sides(balanced, false);
        if (by_sides.solve()) {
            shares.side_mm = by_sides.side_mm();
            return shares;
        }
    }
    Closing by_all(given, true);
    if (!by_all.solve()) return std::nullopt;
    return Spread{by_all.side_mm(), by_all.angle_deg(), false};
}

Chain with_spread(const Chain& given, const Spread& spread) {
    Chain chain = given;
    for (std::size_t k = 0; k < given.sides(); ++k) {
        chain.sides_mm[k] += spread.side_mm[k];
        chain.interior_deg[k] += spread.angle_deg[k];
    }
    return chain;
}

}  // namespace boardring
