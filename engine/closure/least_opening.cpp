// Notation. Joint j has columns a (3 of them, each a Twist), opening x_j, the equations are  sum A_j x_j = b. For a
// multiplier l (three numbers) the best openings are x_j(l) = cut(A_j' l): gaps cut off at 0, the lip free. To solve:
//     F(l) = sum A_j x_j(l) - b = 0,
// the gradient of the convex, piecewise quadratic  phi(l) = sum |x_j(l)|^2 / 2 - b' l.  Newton on pieces: H = sum a a' over
// what is open. Rows are first scaled so that sum over all a a' is the unit matrix ("whitened"): then H <= 1, l, F and b have
// one unit, and a ring of 38 mm boards a kilometre long is as well conditioned as a square.
#include "closure/least_opening.hpp"

#include <algorithm>
#include <cmath>

#include "closure/matrix3.hpp"

namespace boardring {
namespace {

// Share of the unit matrix that keeps H regular while too few gaps are open; small enough that a regular step is Newton's to
// all digits.
constexpr double kLift = 1e-12;
constexpr int kMostSteps = 200;
constexpr int kMostHalvings = 60;

double inner(const Twist& a, const Twist& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }

void add(Twist& to, double s, const Twist& a) {
    for (std::size_t i = 0; i < 3; ++i) to[i] += s * a[i];
}

double size_of(const Twist& a) { return std::sqrt(inner(a, a)); }

// The whitened problem.
struct Whitened {
    Matrix3 scale{};  // lower triangle: old rows = scale x new rows
    std::vector<OpeningColumns> columns;
    Twist wanted{};
};

bool whiten(const std::vector<OpeningColumns>& columns, const Twist& wanted, Whitened& out) {
    Matrix3& all = out.scale;
    for (const OpeningColumns& c : columns) {
        add_square(all, c.gap_in);
        add_square(all, c.gap_out);
        add_square(all, c.lip_in);
    }
    if (!take_root(all)) return false;
    out.columns.reserve(columns.size());
    for (const OpeningColumns& c : columns) {
        out.columns.push_back({solve_lower(all, c.gap_in), solve_lower(all, c.gap_out), solve_lower(all, c.lip_in)});
    }
    out.wanted = solve_lower(all, wanted);
    return true;
}

// F, phi and H at one multiplier.
struct Sums {
    Twist left{};        // F
    double size = 0.0;   // sum |A x|: what rounding in F is measured against
    double value = 0.0;  // phi
    Matrix3 square{};     // H, lower triangle
};

Sums sums_at(const Whitened& problem, const Twist& l) {
    Sums s;
    for (const OpeningColumns& c : problem.columns) {
        for (const Twist* a : {&c.gap_in, &c.gap_out, &c.lip_in}) {
            const double x = inner(*a, l);
            if (x < 0.0 && a != &c.lip_in) continue;
            add(s.left, x, *a);
            add_square(s.square, *a);
            s.size += std::abs(x) * size_of(*a);
            s.value += 0.5 * x * x;
        }
    }
    add(s.left, -1.0, problem.wanted);
    s.size += size_of(problem.wanted);
    s.value -= inner(problem.wanted, l);
    return s;
}

Twist newton_step(const Sums& at) {
    Matrix3 lifted = at.square;
    for (std::size_t i = 0; i < 3; ++i) lifted[i][i] += kLift;
    Twist down{};
    add(down, -1.0, at.left);
    if (!take_root(lifted)) return down;
    return solve_upper(lifted, solve_lower(lifted, down));
}

// Goes along `step` as far as phi falls; convex, so a point before the lowest is always fine. False if no digit moves any more.
bool go_down(const Whitened& problem, const Twist& step, Twist& l, Sums& at) {
    const double fall = inner(at.left, step);
    double share = 1.0;
    for (int i = 0; i < kMostHalvings; ++i) {
        Twist next = l;
        add(next, share, step);
        Sums there = sums_at(problem, next);
        const double slope = inner(there.left, step);
        const bool lower = slope <= 0.0 || there.value <= at.value + 1e-4 * share * fall;
        if (lower || size_of(there.left) <= 0.5 * size_of(at.left)) {
            if (next == l) return false;
            l = next;
            at = there;
            return true;
        }
        // Where the slope would be zero if it were straight in between.
        share *= std::clamp(fall / (fall - slope), 0.1, 0.5);
    }
    return false;
}

}  // namespace

LeastOpening least_opening(const std::vector<OpeningColumns>& columns, const Twist& wanted) {
    LeastOpening result;
    result.openings.resize(columns.size());
    Whitened problem;
    if (!whiten(columns, wanted, problem)) {
        result.met = inner(wanted, wanted) == 0.0;
        return result;
    }
    Twist l = problem.wanted;
    Sums at = sums_at(problem, l);
    const auto left_over = [&at] { return size_of(at.left) / std::max(at.size, 1e-300); };
    while (left_over() > 1e-15 && result.steps < kMostSteps) {
        ++result.steps;
        const double before = left_over();
        if (!go_down(problem, newton_step(at), l, at)) break;
        // Rounding has the last word: nothing is gained any more.
        if (left_over() < 1e-13 && left_over() > 0.5 * before) break;
    }
    for (std::size_t j = 0; j < columns.size(); ++j) {
        const OpeningColumns& c = problem.columns[j];
        result.openings[j] = {std::max(0.0, inner(c.gap_in, l)), std::max(0.0, inner(c.gap_out, l)), inner(c.lip_in, l)};
    }
    result.force = solve_upper(problem.scale, l);
    result.met = left_over() <= kOpeningMet;
    return result;
}

}  // namespace boardring
