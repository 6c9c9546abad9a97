// Laws of the fit of found outlines, on random rings with random readings.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include "outline/fit.hpp"
#include "outline/fit_judge.hpp"
#include "outline/fit_unknowns.hpp"
#include "support/catch.hpp"
#include "support/full_size.hpp"
#include "support/random_network.hpp"

using namespace boardring;
using boardring_test::add_noise;
using boardring_test::cases;
using boardring_test::exact_network;
using boardring_test::Random;
using boardring_test::random_ring;

namespace {

struct Case {
    Network network;
    NetworkFit fit;
};

Case random_case(Random& random) {
    Case made;
    made.network = exact_network(random, random_ring(random, 4 + random.index(7)), random.index(12));
    add_noise(random, made.network);
    made.fit = fit_network(made.network);
    REQUIRE(made.fit.stop == FitStop::settled);
    return made;
}

std::vector<double> fitted_values(const Network& network, const NetworkFit& fit) {
    std::vector<double> values;
    for (const Observation& o : network.observations) values.push_back(predicted(o, fit.points_mm));
    return values;
}

double sd_of(const FitCovariance& covariance, const Observation& o) {
    const std::vector<double> column = covariance.column(o);
    return o.sigma * std::sqrt(dot_of(column, column));
}

}  // namespace

TEST_CASE("residuals are orthogonal to the design matrix", "[property]") {
    Random random(401);
    for (std::size_t round = 0; round < cases(500, 20'000); ++round) {
        const Case c = random_case(random);
        const FitUnknowns unknowns(c.network);
        std::vector<double> sum(static_cast<std::size_t>(unknowns.count()), 0.0), size(sum);
        const auto add = [&](int unknown, double by, double v) {
            if (unknown < 0) return;
            sum[static_cast<std::size_t>(unknown)] += by * v;
            size[static_cast<std::size_t>(unknown)] += std::abs(by * v);
        };
        for (std::size_t i = 0; i < c.network.observations.size(); ++i) {
            const Observation& o = c.network.observations[i];
            const Gradient g = gradient_of(o, c.fit.points_mm);
            for (std::size_t k = 0; k < g.count; ++k) {
                add(unknowns.x(g.point[k]), g.by[k].x / o.sigma, c.fit.residual[i] / o.sigma);
                add(unknowns.y(g.point[k]), g.by[k].y / o.sigma, c.fit.residual[i] / o.sigma);
            }
        }
        for (std::size_t u = 0; u < sum.size(); ++u) CHECK(std::abs(sum[u]) <= 1e-6 * (size[u] + 1e-3));
    }
}

TEST_CASE("another reading never makes anything less well known", "[property]") {
    Random random(402);
    for (std::size_t round = 0; round < cases(300, 10'000); ++round) {
        const Case c = random_case(random);
        const auto before = FitCovariance::of(c.network, c.fit.points_mm);
        REQUIRE(before);
        Network more = c.network;
        Observation added = c.network.observations[random.index(c.network.observations.size())];
        if (added.kind == Observation::Kind::distance)
            added.b = (added.a + 1 + random.index(c.network.points - 1)) % c.network.points;
        added.sigma *= random.between(0.2, 5.0);
        more.observations.push_back(added);
        const auto after = FitCovariance::of(more, c.fit.points_mm);
        REQUIRE(after);
        for (const Observation& o : more.observations) CHECK(sd_of(*after, o) <= sd_of(*before, o) * (1.0 + 1e-9));
        const std::vector<double> was = before->corner_sd_mm(), is = after->corner_sd_mm();
        for (std::size_t k = 0; k < was.size(); ++k) CHECK(is[k] <= was[k] * (1.0 + 1e-9));
    }
}

TEST_CASE("twice as large with twice the errors is the same ring twice as large", "[property]") {
    Random random(403);
    for (std::size_t round = 0; round < cases(200, 5'000); ++round) {
        const Case c = random_case(random);
        Network large = c.network;
        for (Observation& o : large.observations) {
            if (o.kind == Observation::Kind::angle) continue;
            o.value *= 2.0;
            o.sigma *= 2.0;
        }
        const NetworkFit fit = fit_network(large);
        CHECK_THAT(fit.chi_square, WithinAbs(c.fit.chi_square, 1e-7 * (1.0 + c.fit.chi_square)));
        for (std::size_t p = 0; p < c.network.points; ++p) CHECK(length(fit.points_mm[p] - 2.0 * c.fit.points_mm[p]) < 1e-5);
    }
}

TEST_CASE("letters that start elsewhere, and a ring seen from the other side, fit alike", "[property]") {
    Random random(404);
    for (std::size_t round = 0; round < cases(200, 5'000); ++round) {
        const Case c = random_case(random);
        const std::size_t n = c.network.corners;
        const std::size_t shift = 1 + random.index(n - 1);
        Network other = c.network, mirrored = c.network;
        for (Observation& o : other.observations) {
            o.a = (o.a + shift) % n;
            o.b = (o.b + shift) % n;
            if (o.kind == Observation::Kind::angle) o.c = (o.c + shift) % n;
        }
        for (Observation& o : mirrored.observations) {
            o.a = n - 1 - o.a;
            o.b = n - 1 - o.b;
            o.c = n - 1 - o.c;
            if (o.kind == Observation::Kind::angle) std::swap(o.b, o.c);
        }
        for (const Network& network : {other, mirrored}) {
            const NetworkFit fit = fit_network(network);
            CHECK_THAT(fit.chi_square, WithinAbs(c.fit.chi_square, 1e-6 * (1.0 + c.fit.chi_square)));
            const std::vector<double> was = fitted_values(c.network, c.fit), is = fitted_values(network, fit);
            for (std::size_t i = 0; i < was.size(); ++i) CHECK_THAT(is[i], WithinAbs(was[i], 1e-4));
        }
        const auto one = FitCovariance::of(c.network, c.fit.points_mm);
        const auto two = FitCovariance::of(other, fit_network(other).points_mm);
        REQUIRE((one && two));
        for (std::size_t k = 0; k < n; ++k) {
            CHECK_THAT(two->corner_sd_mm()[(k + shift) % n], WithinAbs(one->corner_sd_mm()[k], 1e-5));
        }
    }
}

TEST_CASE("errors of the fitted values are as large as their standard deviations say", "[property]") {
    Random random(405);
    const std::vector<Vec2> ring = random_ring(random, 6);
    const Network exact = exact_network(random, ring, 4);
    const auto covariance = FitCovariance::of(exact, ring);
    REQUIRE(covariance);
    std::vector<double> squares(exact.observations.size(), 0.0);
    const std::size_t rounds = cases(2'000, 50'000);
    double chi_square = 0.0;
    for (std::size_t round = 0; round < rounds; ++round) {
        Network network = exact;
        add_noise(random, network);
        const NetworkFit fit = fit_from(network, ring);
        chi_square += fit.chi_square / static_cast<double>(rounds);
        for (std::size_t i = 0; i < squares.size(); ++i) {
            const double off = predicted(exact.observations[i], fit.points_mm) - exact.observations[i].value;
            squares[i] += off * off / static_cast<double>(rounds);
        }
    }
    const double freedoms = static_cast<double>(exact.observations.size()) - 9.0;
    CHECK_THAT(chi_square, WithinAbs(freedoms, 5.0 * std::sqrt(2.0 * freedoms / static_cast<double>(rounds))));
    for (std::size_t i = 0; i < squares.size(); ++i) {
        const double bound = 5.0 / std::sqrt(2.0 * static_cast<double>(rounds)) + 0.01;
        CHECK_THAT(std::sqrt(squares[i]) / sd_of(*covariance, exact.observations[i]), WithinAbs(1.0, bound));
    }
}
