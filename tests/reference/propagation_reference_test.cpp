// Published examples of how errors come through, sent through the functions the last joint's budget and simulation use.
#include <cmath>
#include <vector>

#include "closure/trials.hpp"
#include "support/catch.hpp"

using namespace boardring;

namespace {

TrialMaker weighted_sum(std::vector<double> weight) {
    return [weight] {
        return [weight](const Lanes* x, Lanes* y) {
            y[0] = 0.0;
            for (std::size_t j = 0; j < weight.size(); ++j) y[0] = y[0] + weight[j] * x[j];
        };
    };
}

// Half the shortest 95 % interval of a symmetric result.
double half_interval(const TrialResult& y) { return 0.5 * (y.quantile(0.975) - y.quantile(0.025)); }

}  // namespace

TEST_CASE("the end gauge of GUM annex H.1 has a standard uncertainty of 32 nm, 34 with what is not linear") {
    // JCGM 100:2008, H.1 and table H.1; lengths in nm. Read: the inputs, 32 and the 9.7 of d. From memory: the other three components, 34 and
    // the length itself. l = l_s + d - l_s (delta_alpha theta + alpha_s delta_theta).
    const double l_s = 50.000623e6;
    const double u_d = std::sqrt(5.8 * 5.8 + 3.9 * 3.9 + 6.7 * 6.7);  // repeated readings, comparator's random and systematic part
    const double u_alpha = 2e-6 / std::sqrt(3.0);                      // half-width 2e-6
    const double u_dalpha = 1e-6 / std::sqrt(3.0);                     // half-width 1e-6
    const double u_dtheta = 0.05 / std::sqrt(3.0);                     // half-width 0.05 degrees
    const double u_theta = 0.2, u_cyclic = 0.5 / std::sqrt(2.0);       // mean of the bench, and an arcsine of half-width 0.5
    const double theta = -0.1, alpha_s = 11.5e-6;

    const FirstOrder linear = propagate({25.0, u_d, -l_s * theta * u_dalpha, -l_s * alpha_s * u_dtheta});
    CHECK(std::round(linear.part[0]) == 25.0);
    CHECK(std::abs(linear.part[1] - 9.7) < 0.05);
    CHECK(std::abs(linear.part[2] - 2.9) < 0.05);
    CHECK(std::abs(linear.part[3] - 16.6) < 0.05);
    CHECK(std::round(linear.sd) == 32.0);

    const std::vector<Scatter> scatter{Scatter::normal,      Scatter::normal, Scatter::rectangular, Scatter::rectangular,
                                       Scatter::rectangular, Scatter::normal, Scatter::arcsine};
    TrialOptions options;
    options.runs = 400'000;
    const TrialMaker gauge = [&] {
        return [&](const Lanes* x, Lanes* y) {
            const Lanes ls = l_s + 25.0 * x[0];
            const Lanes d = 215.0 + u_d * x[1];
            const Lanes alpha = alpha_s + u_alpha * x[2];
            const Lanes dalpha = u_dalpha * x[3];
            const Lanes dtheta = u_dtheta * x[4];
            const Lanes bench = theta + u_theta * x[5] + u_cyclic * x[6];
            y[0] = ls + d - ls * (dalpha * bench + alpha * dtheta);
        };
    };
    const Trials trials = run_trials(scatter, 1, gauge, options);
    CHECK(std::round(trials.results[0].sd) == 34.0);                     // the GUM's value with second-order terms (H.1.7)
    CHECK(std::abs(trials.results[0].mean - 50.000838e6) < 1.0);         // 50.000 838 mm
}

TEST_CASE("sums of four inputs spread as in JCGM 101, clause 9.2") {
    // Tables 2 and 3, read; 9.2.4 with one large input is from memory. u(y) 2.0, and the 95 % interval: four normal inputs +-3.92, four rectangular +-3.88 where the root of squares says 3.92.
    TrialOptions options;
    options.runs = 1'000'000;
    const FirstOrder linear = propagate({1.0, 1.0, 1.0, 1.0});
    CHECK(linear.sd == 2.0);
    const Trials normal = run_trials(std::vector<Scatter>(4, Scatter::normal), 1, weighted_sum({1, 1, 1, 1}), options);
    CHECK(std::abs(normal.results[0].sd - 2.0) < 0.005);
    CHECK(std::abs(half_interval(normal.results[0]) - 3.92) < 0.012);    // 2.5 standard errors of these trials
    const Trials flat = run_trials(std::vector<Scatter>(4, Scatter::rectangular), 1, weighted_sum({1, 1, 1, 1}), options);
    CHECK(std::abs(flat.results[0].sd - 2.0) < 0.005);
    CHECK(std::abs(half_interval(flat.results[0]) - 3.88) < 0.012);
    // One flat input ten times the others: 1.96 u = 19.9 is too wide, 17.0 is true.
    const Trials one_large = run_trials(std::vector<Scatter>(4, Scatter::rectangular), 1, weighted_sum({1, 1, 1, 10}), options);
    CHECK(std::abs(propagate({1, 1, 1, 10}).sd - 10.1) < 0.05);
    CHECK(std::abs(half_interval(one_large.results[0]) - 17.0) < 0.05);
}

TEST_CASE("stacks of parts have their published worst cases and roots of squares") {
    // Common practice: 2.000 +-.005, 1.500 +-.003, .500 +-.002 in a housing of 4.020 +-.005; printed .015 and .00794, .010 and .00616.
    const FirstOrder housed = propagate({0.005, 0.003, 0.002, 0.005});
    CHECK(std::abs(housed.worst - 0.015) < 1e-12);
    CHECK(std::abs(housed.sd - 0.00794) < 0.000005);
    const FirstOrder stack = propagate({0.005, 0.003, 0.002});
    CHECK(std::abs(stack.worst - 0.010) < 1e-12);
    CHECK(std::abs(stack.sd - 0.00616) < 0.000005);
    CHECK(std::abs(propagate(std::vector<double>(10, 0.1)).sd - 0.316) < 0.0005);
    CHECK(std::abs(propagate(std::vector<double>(5, 0.1)).sd - 0.224) < 0.0005);
}
