#pragma once
#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include "outline/network.hpp"

namespace boardring {

/// Why the fit stopped.
enum class FitStop {
    settled,         ///< the last step moved no point by more than 1e-10 of the ring's size
    stalled,         ///< no step makes the fit better, and the last one was longer than that
    too_many_steps,  ///< as many steps as are allowed were not enough
};

/// Weighted least squares on the places of the points.
struct NetworkFit {
    FitStop stop = FitStop::settled;
    std::size_t steps = 0;
    std::vector<Vec2> points_mm;
    std::vector<double> residual;  ///< reading less fitted value, one per observation, mm or deg
    double chi_square = 0.0;       ///< sum of (residual / sigma)^2
};

/// Places that make the sum of squared standardised residuals least, from the place given.
///
/// Corner A stays where it is; without readings against level, side AB also keeps its direction (A and B must not coincide).
/// Gauss-Newton steps on the normal equations (sparse Cholesky, minimum-degree order), damped after Levenberg and Marquardt when
/// a step would make the fit worse; columns are scaled by the diagonal, so that corners held by short and by long sides count
/// alike.
///
/// Laws      exact readings return the exact outline; residuals are orthogonal to the design matrix; scaling and relabelling
///           change nothing else [fit_property_test].
/// Cost      a step is linear in the readings for a ring without diagonals; n diagonals fill in like a planar mesh (see
///           docs/accuracy.md for the growth measured).
/// Source    docs/theory/fit.md section 2.
NetworkFit fit_from(const Network& network, std::vector<Vec2> start_mm, std::size_t most_steps = 100);

/// The same from the best of several starts (fit_start.hpp), the first that fits well.
NetworkFit fit_network(const Network& network, std::size_t most_starts = 12, std::size_t most_steps = 100);

/// How well the points of a fit are known: (A' W A)^-1 in factored form. Unit variance: the sigmas are taken at their word.
class FitCovariance {
public:
    /// Nothing if the readings leave some point loose at these places: some pivot of the scaled normal matrix is below 1e-13.
    static std::optional<FitCovariance> of(const Network& network, const std::vector<Vec2>& points_mm);

    /// L^-1 g of a function of the points: the dot product of two such columns is the covariance of the two functions.
    [[nodiscard]] std::vector<double> column(const Gradient& gradient) const;
    /// The same in units of the observation's sigma.
    [[nodiscard]] std::vector<double> column(const Observation& observation) const;
    /// (A' W A)^-1 g: covariance of every point's place with the function, two numbers a point (0 where held).
    [[nodiscard]] std::vector<Vec2> influence(const Gradient& gradient) const;
    /// Largest standard deviation of each corner's place in any direction, as against all corners together: no corner is held
    /// (inner constraints: the mean place and the mean turn of the corners are free of error).
    [[nodiscard]] std::vector<double> corner_sd_mm() const;

private:
    struct Factor;
    std::shared_ptr<const Factor> factor_;
};

double dot_of(const std::vector<double>& a, const std::vector<double>& b);

/// Which points can still move.
struct Looseness {
    std::size_t freedoms = 0;              ///< how many more independent readings are needed; 0: the readings hold everything
    std::vector<std::size_t> loose;        ///< points that can move against the largest group that holds together
    std::optional<Observation> hold_with;  ///< the one reading that fixes most; its value is what it would be here
};

/// Rank of the design matrix by its singular values, rows by sigma and columns scaled to length 1: directions below 1e-8 of the
/// largest are free. At most 400 points (cost n^3); larger networks are taken as held when their factor exists.
Looseness looseness_of(const Network& network, const std::vector<Vec2>& points_mm);

}  // namespace boardring
