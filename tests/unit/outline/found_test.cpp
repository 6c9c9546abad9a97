#include "outline/found.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "outline/fit.hpp"
#include "support/catch.hpp"
#include "support/random_network.hpp"

using namespace boardring;
using boardring_test::exact_network;
using boardring_test::Random;
using boardring_test::random_ring;

namespace {

using Row = std::vector<double>;

double inner(const Row& a, const Row& b) {
    double sum = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
    return sum;
}

// The sum of both variances of all corners as against all corners together [mm^2]: the whole covariance written down, and what moves
// or turns the ring as one taken off it.
double shape_variance(const Network& network, const std::vector<Vec2>& places) {
    const auto covariance = FitCovariance::of(network, places);
    REQUIRE(covariance);
    const std::size_t n = places.size();
    std::vector<Row> whole;
    for (std::size_t p = 0; p < n; ++p) {
        for (const Vec2 way : {Vec2{1.0, 0.0}, Vec2{0.0, 1.0}}) {
            Gradient gradient;
            gradient.count = 1;
            gradient.point[0] = p;
            gradient.by[0] = way;
            Row row;
            for (const Vec2 v : covariance->influence(gradient)) row.insert(row.end(), {v.x, v.y});
            whole.push_back(std::move(row));
        }
    }
    Vec2 middle;
    for (const Vec2 p : places) middle = middle + (1.0 / static_cast<double>(n)) * p;
    std::vector<Row> as_one(3, Row(2 * n, 0.0));
    for (std::size_t p = 0; p < n; ++p) {
        const Vec2 turn = left_of(places[p] - middle);
        as_one[0][2 * p] = as_one[1][2 * p + 1] = 1.0;
        as_one[2][2 * p] = turn.x;
        as_one[2][2 * p + 1] = turn.y;
    }
    double trace = 0.0;
    for (std::size_t i = 0; i < 2 * n; ++i) trace += whole[i][i];
    for (const Row& way : as_one) {  // the three are square to each other
        double along = 0.0;
        for (std::size_t i = 0; i < 2 * n; ++i) along += way[i] * inner(whole[i], way);
        trace -= along / inner(way, way);
    }
    return trace;
}

Network with_distance(Network network, std::size_t a, std::size_t b, double sigma_mm, const std::vector<Vec2>& places) {
    Observation o;
    o.kind = Observation::Kind::distance;
    o.a = a;
    o.b = b;
    o.sigma = sigma_mm;
    o.line = network.observations.size();
    o.value = predicted(o, places);
    network.observations.push_back(o);
    return network;
}

}  // namespace

TEST_CASE("the next reading that is advised helps more than any other: each of them taken and the ring fitted anew", "[found]") {
    Random random(331);
    int advised = 0;
    for (int round = 0; round < 40; ++round) {
        const std::vector<Vec2> ring = random_ring(random, 4 + random.index(4));
        const std::size_t n = ring.size();
        const Network network = exact_network(random, ring, random.index(3));
        const NetworkFit fit = fit_network(network);
        const auto covariance = FitCovariance::of(network, fit.points_mm);
        REQUIRE(covariance);
        constexpr double kSigma = 3.0;
        const std::optional<NextReading> next = best_next_reading(network, fit, *covariance, kSigma);
        const auto is_read = [&](std::size_t a, std::size_t b) {
            return std::any_of(network.observations.begin(), network.observations.end(), [&](const Observation& o) {
                return o.kind == Observation::Kind::distance && std::minmax(o.a, o.b) == std::minmax(a, b);
            });
        };
        const double now = shape_variance(network, fit.points_mm);
        double least = now;
        for (std::size_t a = 0; a < n; ++a) {
            for (std::size_t b = a + 1; b < n; ++b) {
                if (is_read(a, b)) continue;
                least = std::min(least, shape_variance(with_distance(network, a, b, kSigma, fit.points_mm), fit.points_mm));
            }
        }
        CAPTURE(round, n);
        if (!next) {  // less than a tenth off the errors, so a fifth off their squares
            CHECK(least > 0.8 * now);
            continue;
        }
        ++advised;
        CHECK_FALSE(is_read(next->first, next->second));
        CHECK(shape_variance(with_distance(network, next->first, next->second, kSigma, fit.points_mm), fit.points_mm) <= least * (1.0 + 1e-6));
    }
    CHECK(advised > 10);
}
