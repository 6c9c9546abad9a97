#include "closure/trials.hpp"

#include <cmath>

#include "support/catch.hpp"

using namespace boardring;

namespace {

TrialMaker sum_of(std::size_t inputs) {
    return [inputs] {
        return [inputs](const Lanes* x, Lanes* y) {
            y[0] = 0.0;
            for (std::size_t j = 0; j < inputs; ++j) y[0] = y[0] + x[j];
        };
    };
}

}  // namespace

TEST_CASE("more threads and more trials change no number") {
    const std::vector<Scatter> scatter(5, Scatter::normal);
    TrialOptions options;
    options.runs = 23'457;  // no multiple of anything
    options.seed = 0x1234567890;
    const Trials one = run_trials(scatter, 1, sum_of(5), options);
    options.threads = 3;
    const Trials three = run_trials(scatter, 1, sum_of(5), options);
    CHECK(one.runs == 23'457);
    CHECK(one.results[0].sorted == three.results[0].sorted);
    CHECK(one.results[0].mean == three.results[0].mean);
    options.seed = 2;
    CHECK(run_trials(scatter, 1, sum_of(5), options).results[0].mean != one.results[0].mean);
}

TEST_CASE("trials stop by themselves when their numbers stand still, and say when they do not") {
    TrialOptions options;
    const Trials coarse = run_trials({Scatter::normal}, 1, sum_of(1), options);
    CHECK(coarse.still);
    CHECK(coarse.runs < 200'000);
    options.digit_of_sd = 0.01;
    const Trials finer = run_trials({Scatter::normal}, 1, sum_of(1), options);
    CHECK(finer.still);
    CHECK(finer.runs > 4 * coarse.runs);
    options.most = 20'000;
    CHECK(!run_trials({Scatter::normal}, 1, sum_of(1), options).still);
    CHECK(std::abs(finer.results[0].mean) < 0.01);
    CHECK(std::abs(finer.results[0].sd - 1.0) < 0.01);
    CHECK(std::abs(finer.results[0].quantile(0.975) - 1.95996) < 0.02);
}

TEST_CASE("a share knows its own error, also when none or all are in") {
    CHECK(share_error(0.5, 10'000) == 0.005);
    CHECK(share_error(0.0, 100) > 0.0);
    CHECK(std::abs(share_error(1.0, 100) - share_error(0.0, 100)) < 1e-15);
}

TEST_CASE("parts add up by the root of the sum of squares, and the worst case by their sum") {
    const FirstOrder out = propagate({3.0, -4.0, 0.0});
    CHECK(out.sd == 5.0);
    CHECK(out.worst == 7.0);
    CHECK(out.share == std::vector<double>{0.36, 0.64, 0.0});
    CHECK(propagate({0.0}).share == std::vector<double>{0.0});
}
