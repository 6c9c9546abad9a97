// Found outlines: the fit alone, and with the search for a wrong reading. Targets: 12 corners with all diagonals under 1 ms, 200
// corners with 400 readings under 1 s. Growth: items are readings.
#include <benchmark/benchmark.h>

#include <cstddef>
#include <cstdint>
#include <vector>

#include "base/angle.hpp"
#include "outline/fit.hpp"
#include "outline/fit_judge.hpp"
#include "support/random_network.hpp"

namespace {

using namespace boardring;

// Corners on a circle give or take, sides about 800; every side, `angles` or not, and diagonals over one corner, two corners ...
Network ring(std::size_t corners, bool angles, std::size_t readings) {
    boardring_test::Random random(77);
    std::vector<Vec2> at;
    const double radius_mm = 400.0 / sin_deg(180.0 / static_cast<double>(corners));
    for (std::size_t c = 0; c < corners; ++c) {
        const double turns = (static_cast<double>(c) + random.between(-0.15, 0.15)) / static_cast<double>(corners);
        at.push_back(radius_mm * unit_deg(360.0 * turns));
    }
    Network network = boardring_test::exact_network(random, at, 0);
    if (!angles) network.observations.resize(corners);
    for (std::size_t over = 2; network.observations.size() < readings && over <= corners / 2; ++over) {
        for (std::size_t a = 0; a < corners && network.observations.size() < readings; ++a) {
            if (2 * over == corners && a >= over) break;
            Observation o;
            o.a = a;
            o.b = (a + over) % corners;
            o.sigma = 3.0;
            o.line = network.observations.size();
            o.value = predicted(o, at);
            network.observations.push_back(o);
        }
    }
    boardring_test::add_noise(random, network);
    network.observations[1].value += 200.0;
    return network;
}

void fit(benchmark::State& state, const Network& network) {
    for (auto _ : state) benchmark::DoNotOptimize(fit_network(network));
    state.counters["readings"] = static_cast<double>(network.observations.size());
}

void fit_and_judge(benchmark::State& state, const Network& network) {
    for (auto _ : state) benchmark::DoNotOptimize(judge_fit(network, fit_network(network), {}));
    state.counters["readings"] = static_cast<double>(network.observations.size());
}

const std::size_t kAll12 = 12 + 12 + 12 * 9 / 2;

}  // namespace

BENCHMARK_CAPTURE(fit, six_corners_all_15_lengths, ring(6, false, 15))->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(fit, twelve_corners_all, ring(12, true, kAll12))->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(fit_and_judge, six_corners_all_15_lengths, ring(6, false, 15))->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(fit_and_judge, twelve_corners_all, ring(12, true, kAll12))->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(fit, corners_50_readings_100, ring(50, false, 100))->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(fit, corners_100_readings_200, ring(100, false, 200))->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(fit, corners_200_readings_400, ring(200, false, 400))->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(fit, corners_400_readings_800, ring(400, false, 800))->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(fit_and_judge, corners_50_readings_100, ring(50, false, 100))->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(fit_and_judge, corners_100_readings_200, ring(100, false, 200))->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(fit_and_judge, corners_200_readings_400, ring(200, false, 400))->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(fit_and_judge, corners_400_readings_800, ring(400, false, 800))->Unit(benchmark::kMillisecond);
BENCHMARK_MAIN();
