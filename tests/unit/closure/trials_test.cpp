#include "closure/trials.hpp"

#include <cmath>
#include <cstdint>

#include "closure/random.hpp"
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

TEST_CASE("where trials stop by themselves the ends of the 95 % interval are good to a twentieth in 9 of 10, and off to neither side") {
    // The law of a widest opening: the largest of three |normal|, and of one. The standard error the stop goes by comes from two batches and
    // more, so it is itself rough: what is promised is counted here, against the true quantiles.
    const auto widest_of = [](std::size_t inputs) {
        return [inputs] {
            return [inputs](const Lanes* x, Lanes* y) {
                y[0] = 0.0;
                for (std::size_t j = 0; j < inputs; ++j) y[0] = larger(y[0], size(x[j]));
            };
        };
    };
    for (const std::size_t inputs : {std::size_t{1}, std::size_t{3}}) {
        const double each = 1.0 / static_cast<double>(inputs);
        const double low = inverse_normal(0.5 + 0.5 * std::pow(0.025, each)), high = inverse_normal(0.5 + 0.5 * std::pow(0.975, each));
        constexpr int kTimes = 150;
        int good_low = 0, good_high = 0, above = 0;
        for (int seed = 1; seed <= kTimes; ++seed) {
            TrialOptions options;
            options.seed = static_cast<std::uint64_t>(seed);
            const TrialResult result = run_trials(std::vector<Scatter>(inputs, Scatter::normal), 1, widest_of(inputs), options).results[0];
            good_low += std::abs(result.quantile(0.025) - low) <= 0.05 * result.sd ? 1 : 0;
            good_high += std::abs(result.quantile(0.975) - high) <= 0.05 * result.sd ? 1 : 0;
            above += result.quantile(0.975) > high ? 1 : 0;
        }
        CAPTURE(inputs, good_low, good_high, above);
        CHECK(good_low >= kTimes * 9 / 10);
        CHECK(good_high >= kTimes * 9 / 10);
        CHECK(std::abs(above - kTimes / 2) < 25);  // four standard deviations
    }
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
