#include "outline/fit.hpp"

#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>
#include <algorithm>
#include <cmath>
#include <utility>

#include "base/ensure.hpp"
#include "outline/fit_start.hpp"
#include "outline/fit_unknowns.hpp"

namespace boardring {
namespace {

using Sparse = Eigen::SparseMatrix<double>;
using Cholesky = Eigen::SimplicialLDLT<Sparse, Eigen::Lower, Eigen::AMDOrdering<int>>;

constexpr double kStepOf = 1e-10;  // of the ring's size: settled
constexpr double kSmallestPivot = 1e-13;  // of the normal matrix scaled to a unit diagonal
constexpr double kGoodStart = 6.0;  // a fit this many standard deviations above its degrees of freedom may be a wrong branch

double chi_square_of(const Network& network, const std::vector<Vec2>& points_mm) {
    double sum = 0.0;
    for (const Observation& o : network.observations) {
        const double r = residual_of(o, points_mm) / o.sigma;
        sum += r * r;
    }
    return sum;
}

double size_of(const std::vector<Vec2>& points_mm) {
    double size = 0.0;
    for (const Vec2 p : points_mm) size = std::max(size, length(p - points_mm.front()));
    return size;
}

// Gradient in unknowns, in units of the reading's sigma.
std::vector<std::pair<int, double>> row_of(const Gradient& g, double sigma, const FitUnknowns& unknowns) {
    std::vector<std::pair<int, double>> row;
    row.reserve(6);
    for (std::size_t i = 0; i < g.count; ++i) {
        if (const int x = unknowns.x(g.point[i]); x >= 0) row.emplace_back(x, g.by[i].x / sigma);
        if (const int y = unknowns.y(g.point[i]); y >= 0) row.emplace_back(y, g.by[i].y / sigma);
    }
    return row;
}

struct Normal {
    Sparse matrix;          // lower half of A' W A
    Eigen::VectorXd right;  // A' W (reading - prediction)
    Eigen::VectorXd scale;  // 1 / sqrt of the diagonal, 1 where that is 0
};

// The normal equations with unit diagonal; every diagonal entry is there, zero or not.
Normal normal_equations(const Network& network, const std::vector<Vec2>& points_mm, const FitUnknowns& unknowns) {
    const int u = unknowns.count();
    Normal normal{Sparse(u, u), Eigen::VectorXd::Zero(u), Eigen::VectorXd::Ones(u)};
    Eigen::VectorXd diagonal = Eigen::VectorXd::Zero(u);
    std::vector<std::vector<std::pair<int, double>>> rows;
    rows.reserve(network.observations.size());
    for (const Observation& o : network.observations) {
        rows.push_back(row_of(gradient_of(o, points_mm), o.sigma, unknowns));
        const double misfit = residual_of(o, points_mm) / o.sigma;
        for (const auto& [i, v] : rows.back()) {
            diagonal[i] += v * v;
            normal.right[i] += v * misfit;
        }
    }
    for (int i = 0; i < u; ++i) {
        if (diagonal[i] > 0.0) normal.scale[i] = 1.0 / std::sqrt(diagonal[i]);
    }
    std::vector<Eigen::Triplet<double>> entries;
    entries.reserve(rows.size() * 15 + static_cast<std::size_t>(u));
    for (int i = 0; i < u; ++i) entries.emplace_back(i, i, 0.0);
    for (const auto& row : rows) {
        for (const auto& [i, v] : row) {
            for (const auto& [j, w] : row) {
                if (j <= i) entries.emplace_back(i, j, v * w * normal.scale[i] * normal.scale[j]);
            }
        }
    }
    normal.matrix.setFromTriplets(entries.begin(), entries.end());
    normal.right = normal.right.cwiseProduct(normal.scale);
    return normal;
}

bool holds(const Cholesky& cholesky) {
    return cholesky.info() == Eigen::Success &&
           (cholesky.vectorD().size() == 0 || cholesky.vectorD().minCoeff() > kSmallestPivot);
}

std::vector<Vec2> moved(std::vector<Vec2> points_mm, const FitUnknowns& unknowns, const Eigen::VectorXd& by) {
    for (std::size_t p = 0; p < points_mm.size(); ++p) {
        if (const int x = unknowns.x(p); x >= 0) points_mm[p].x += by[x];
        if (const int y = unknowns.y(p); y >= 0) points_mm[p].y += by[y];
    }
    return points_mm;
}

double longest_move(const std::vector<Vec2>& from, const std::vector<Vec2>& to) {
    double most = 0.0;
    for (std::size_t p = 0; p < from.size(); ++p) most = std::max(most, length(to[p] - from[p]));
    return most;
}

}  // namespace

double dot_of(const std::vector<double>& a, const std::vector<double>& b) {
    ENSURE(a.size() == b.size());
    double sum = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
    return sum;
}

NetworkFit fit_from(const Network& network, std::vector<Vec2> start_mm, std::size_t most_steps) {
    ENSURE(start_mm.size() == network.points);
    const FitUnknowns unknowns(network);
    NetworkFit fit;
    fit.points_mm = std::move(start_mm);
    fit.chi_square = chi_square_of(network, fit.points_mm);
    fit.stop = FitStop::too_many_steps;
    Cholesky cholesky;
    double damping = 0.0;
    while (fit.steps < most_steps && fit.stop == FitStop::too_many_steps) {
        Normal normal = normal_equations(network, fit.points_mm, unknowns);
        if (fit.steps == 0) cholesky.analyzePattern(normal.matrix);
        ++fit.steps;
        const double size = size_of(fit.points_mm);
        fit.stop = FitStop::stalled;
        for (int attempt = 0; attempt < 40; ++attempt) {
            cholesky.setShift(damping);
            cholesky.factorize(normal.matrix);
            if (holds(cholesky)) {
                const Eigen::VectorXd step = cholesky.solve(normal.right).cwiseProduct(normal.scale);
                std::vector<Vec2> there = moved(fit.points_mm, unknowns, step);
                const double moves = longest_move(fit.points_mm, there);
                const double chi_square = chi_square_of(network, there);
                const bool settled = moves <= kStepOf * size;
                // The last digits of the sum jitter: a settled step is taken as it is.
                if (chi_square <= fit.chi_square || (settled && damping == 0.0)) {
                    fit.points_mm = std::move(there);
                    fit.chi_square = chi_square;
                    fit.stop = settled ? FitStop::settled : FitStop::too_many_steps;
                    damping = damping < 1e-6 ? 0.0 : damping * 0.1;
                    break;
                }
                if (settled) {
                    fit.stop = FitStop::settled;
                    break;
                }
            }
            damping = damping == 0.0 ? 1e-4 : damping * 10.0;
        }
    }
    for (const Observation& o : network.observations) fit.residual.push_back(residual_of(o, fit.points_mm));
    return fit;
}

NetworkFit fit_network(const Network& network, std::size_t most_starts, std::size_t most_steps) {
    const double freedoms =
        std::max(1.0, static_cast<double>(network.observations.size()) - static_cast<double>(FitUnknowns(network).count()));
    const double good = freedoms + kGoodStart * std::sqrt(2.0 * freedoms);
    NetworkFit best;
    bool first = true;
    for (std::vector<Vec2>& start : fit_starts(network, most_starts)) {
        NetworkFit fit = fit_from(network, std::move(start), most_steps);
        if (first || fit.chi_square < best.chi_square * (1.0 - 1e-9)) best = std::move(fit);
        first = false;
        if (best.chi_square <= good) break;
    }
    return best;
}

struct FitCovariance::Factor {
    FitUnknowns unknowns;
    std::size_t corners = 0;
    std::vector<Vec2> points_mm;
    Eigen::VectorXd scale;
    Cholesky cholesky;

    explicit Factor(const Network& network) : unknowns(network), corners(network.corners) {}

    [[nodiscard]] Eigen::VectorXd scaled(const Gradient& g) const {
        Eigen::VectorXd v = Eigen::VectorXd::Zero(unknowns.count());
        for (const auto& [i, value] : row_of(g, 1.0, unknowns)) v[i] += value * scale[i];
        return v;
    }
    [[nodiscard]] Eigen::VectorXd forward(const Gradient& g) const {
        Eigen::VectorXd v = cholesky.permutationP() * scaled(g);
        cholesky.matrixL().solveInPlace(v);
        return v.cwiseQuotient(cholesky.vectorD().cwiseSqrt());
    }
};

std::optional<FitCovariance> FitCovariance::of(const Network& network, const std::vector<Vec2>& points_mm) {
    auto factor = std::make_shared<Factor>(network);
    Normal normal = normal_equations(network, points_mm, factor->unknowns);
    factor->points_mm = points_mm;
    factor->scale = std::move(normal.scale);
    factor->cholesky.compute(normal.matrix);
    if (!holds(factor->cholesky)) return std::nullopt;
    FitCovariance covariance;
    covariance.factor_ = std::move(factor);
    return covariance;
}

std::vector<double> FitCovariance::column(const Gradient& gradient) const {
    const Eigen::VectorXd v = factor_->forward(gradient);
    return {v.data(), v.data() + v.size()};
}

std::vector<double> FitCovariance::column(const Observation& observation) const {
    std::vector<double> v = column(gradient_of(observation, factor_->points_mm));
    for (double& value : v) value /= observation.sigma;
    return v;
}

std::vector<Vec2> FitCovariance::influence(const Gradient& gradient) const {
    const Eigen::VectorXd v = factor_->cholesky.solve(factor_->scaled(gradient)).cwiseProduct(factor_->scale);
    std::vector<Vec2> by(factor_->points_mm.size());
    for (std::size_t p = 0; p < by.size(); ++p) {
        if (const int x = factor_->unknowns.x(p); x >= 0) by[p].x = v[x];
        if (const int y = factor_->unknowns.y(p); y >= 0) by[p].y = v[y];
    }
    return by;
}

std::vector<double> FitCovariance::corner_sd_mm() const {
    // Corner c as against all: its move less what the mean move and the mean turn of all corners make of it there.
    const std::size_t n = factor_->corners;
    Vec2 middle;
    for (std::size_t c = 0; c < n; ++c) middle = middle + (1.0 / static_cast<double>(n)) * factor_->points_mm[c];
    double squares = 0.0;
    for (std::size_t c = 0; c < n; ++c) squares += dot(factor_->points_mm[c] - middle, factor_->points_mm[c] - middle);
    const auto forward_of = [&](std::size_t c, Vec2 by) {
        Gradient g;
        g.count = 1;
        g.point[0] = c;
        g.by[0] = by;
        return factor_->forward(g);
    };
    std::vector<Eigen::VectorXd> x, y;
    Eigen::VectorXd mean_x = Eigen::VectorXd::Zero(factor_->unknowns.count());
    Eigen::VectorXd mean_y = mean_x;
    Eigen::VectorXd turn = mean_x;
    for (std::size_t c = 0; c < n; ++c) {
        x.push_back(forward_of(c, {1.0, 0.0}));
        y.push_back(forward_of(c, {0.0, 1.0}));
        mean_x += x.back() / static_cast<double>(n);
        mean_y += y.back() / static_cast<double>(n);
        const Vec2 arm = factor_->points_mm[c] - middle;
        turn += (arm.x * y.back() - arm.y * x.back()) / squares;
    }
    std::vector<double> sd;
    for (std::size_t c = 0; c < n; ++c) {
        const Vec2 arm = factor_->points_mm[c] - middle;
        const Eigen::VectorXd own_x = x[c] - mean_x + arm.y * turn;
        const Eigen::VectorXd own_y = y[c] - mean_y - arm.x * turn;
        const double xx = own_x.squaredNorm();
        const double yy = own_y.squaredNorm();
        const double xy = own_x.dot(own_y);
        sd.push_back(std::sqrt(0.5 * (xx + yy) + std::hypot(0.5 * (xx - yy), xy)));
    }
    return sd;
}

}  // namespace boardring
