#include <Eigen/SVD>
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "outline/fit.hpp"
#include "outline/fit_unknowns.hpp"

namespace boardring {
namespace {

constexpr double kFree = 1e-8;   // of the largest singular value
constexpr double kStill = 1e-6;  // of the fastest change of any distance
constexpr std::size_t kMostPoints = 400;
constexpr double kAngleOverTape = 2.0;  // a tape is at hand: an angle must hold twice as well to be asked for

using Moves = std::vector<std::vector<Vec2>>;  // one list of velocities of the points for each free direction

Moves free_moves(const Network& network, const std::vector<Vec2>& points_mm) {
    const FitUnknowns unknowns(network);
    const auto rows = static_cast<Eigen::Index>(network.observations.size());
    // Rows of zeros make the matrix tall: then every free direction is among its right singular vectors.
    Eigen::MatrixXd design = Eigen::MatrixXd::Zero(std::max<Eigen::Index>(rows, unknowns.count()), unknowns.count());
    for (std::size_t i = 0; i < network.observations.size(); ++i) {
        const Observation& o = network.observations[i];
        const Gradient g = gradient_of(o, points_mm);
        const auto row = static_cast<Eigen::Index>(i);
        for (std::size_t k = 0; k < g.count; ++k) {
            if (const int x = unknowns.x(g.point[k]); x >= 0) design(row, x) += g.by[k].x / o.sigma;
            if (const int y = unknowns.y(g.point[k]); y >= 0) design(row, y) += g.by[k].y / o.sigma;
        }
    }
    Eigen::VectorXd scale = Eigen::VectorXd::Ones(unknowns.count());
    for (Eigen::Index c = 0; c < design.cols(); ++c) {
        const double norm = design.col(c).norm();
        if (norm > 0.0) scale[c] = 1.0 / norm;
        design.col(c) *= scale[c];
    }
    const Eigen::BDCSVD<Eigen::MatrixXd> svd(design, Eigen::ComputeThinV);
    Moves moves;
    for (Eigen::Index k = 0; k < design.cols(); ++k) {
        if (svd.singularValues()[k] > kFree * svd.singularValues()[0] && svd.singularValues()[0] > 0.0) continue;
        const Eigen::VectorXd v = svd.matrixV().col(k).cwiseProduct(scale);
        std::vector<Vec2> move(network.points);
        for (std::size_t p = 0; p < network.points; ++p) {
            if (const int x = unknowns.x(p); x >= 0) move[p].x = v[x];
            if (const int y = unknowns.y(p); y >= 0) move[p].y = v[y];
        }
        moves.push_back(std::move(move));
    }
    return moves;
}

double change_of(const Gradient& g, const std::vector<Vec2>& move) {
    double sum = 0.0;
    for (std::size_t k = 0; k < g.count; ++k) sum += dot(g.by[k], move[g.point[k]]);
    return sum;
}

// How fast a reading changes under the free moves, all together.
double change_of(const Observation& o, const std::vector<Vec2>& points_mm, const Moves& moves) {
    const Gradient g = gradient_of(o, points_mm);
    double squares = 0.0;
    for (const std::vector<Vec2>& move : moves) {
        const double change = change_of(g, move);
        squares += change * change;
    }
    return std::sqrt(squares);
}

Observation distance_between(std::size_t a, std::size_t b, double sigma) {
    Observation o;
    o.a = a;
    o.b = b;
    o.sigma = sigma;
    return o;
}

// Points whose distances to each other all stand still; the largest such group found from any point, in point order.
std::vector<std::size_t> largest_group(const std::vector<Vec2>& points_mm, const Moves& moves) {
    const std::size_t n = points_mm.size();
    std::vector<std::vector<double>> change(n, std::vector<double>(n, 0.0));
    double fastest = 0.0;
    for (std::size_t a = 0; a < n; ++a) {
        for (std::size_t b = a + 1; b < n; ++b) {
            change[a][b] = change[b][a] = change_of(distance_between(a, b, 1.0), points_mm, moves);
            fastest = std::max(fastest, change[a][b]);
        }
    }
    std::vector<std::size_t> best;
    for (std::size_t first = 0; first < n; ++first) {
        std::vector<std::size_t> group{first};
        for (std::size_t p = 0; p < n; ++p) {
            const bool still = p != first && std::all_of(group.begin(), group.end(),
                                                         [&](std::size_t q) { return change[p][q] <= kStill * fastest; });
            if (still) group.push_back(p);
        }
        if (group.size() > best.size()) best = std::move(group);
    }
    std::sort(best.begin(), best.end());
    return best;
}

double typical_sigma(const Network& network, bool angle) {
    double least = 0.0;
    for (const Observation& o : network.observations) {
        if ((o.kind == Observation::Kind::angle) != angle) continue;
        if (least == 0.0 || o.sigma < least) least = o.sigma;
    }
    return least > 0.0 ? least : (angle ? 0.5 : 2.0);
}

}  // namespace

Looseness looseness_of(const Network& network, const std::vector<Vec2>& points_mm) {
    Looseness looseness;
    if (network.points > kMostPoints) return looseness;
    const Moves moves = free_moves(network, points_mm);
    looseness.freedoms = moves.size();
    if (moves.empty()) return looseness;
    const std::vector<std::size_t> group = largest_group(points_mm, moves);
    for (std::size_t p = 0; p < network.points; ++p) {
        if (!std::binary_search(group.begin(), group.end(), p)) looseness.loose.push_back(p);
    }
    double best = 0.0;
    const auto offer = [&](Observation o, double worth) {
        const double score = worth * change_of(o, points_mm, moves) / o.sigma;
        if (!(score > best * (1.0 + 1e-9))) return;
        best = score;
        o.value = predicted(o, points_mm);
        looseness.hold_with = o;
    };
    const double tape = typical_sigma(network, false);
    for (std::size_t a = 0; a < network.points; ++a) {
        for (std::size_t b = a + 1; b < network.points; ++b) offer(distance_between(a, b, tape), 1.0);
    }
    for (std::size_t c = 0; c < network.corners; ++c) {
        if (!network.closed && (c == 0 || c + 1 == network.corners)) continue;
        Observation o;
        o.kind = Observation::Kind::angle;
        o.a = c;
        o.b = network.next(c);
        o.c = network.before(c);
        o.sigma = typical_sigma(network, true);
        offer(o, 1.0 / kAngleOverTape);
    }
    return looseness;
}

}  // namespace boardring
