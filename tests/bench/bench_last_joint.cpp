// Simulation against nothing but drawing its normal numbers, six boards, one core, same run. Target: stiff chain within 3 times,
// drawn-in ring within 10 times. And what the page of a plan pays for its budget.
#include <benchmark/benchmark.h>

#include <cmath>
#include <vector>

#include "closure/simulate.hpp"
#include "outline/outline.hpp"
#include "plan/last_joint.hpp"
#include "support/ring.hpp"

namespace {

using namespace boardring;

struct Ring {
    Project project;
    Frame frame;
    RingErrors errors;
};

Ring six_boards() {
    const Outline outline = boardring_test::regular_ring(6, 369.5);
    Project project = boardring_test::project_for(outline, {38.0, 38.0, 38.0, 28.0, 38.0, 38.0});
    const Frame frame = build_frame(project, outline).value();
    return {project, frame, RingErrors(project, frame, SlopeBy::bevel, boards_as_meant(project, frame, SlopeBy::bevel))};
}

void pack(benchmark::State& state, bool stiff, bool spread) {
    const Ring ring = six_boards();
    RingPack pack(ring.frame, ring.errors, 0);
    const std::vector<Scatter> scatter(ring.errors.model.inputs.size(), Scatter::normal);
    std::vector<Lanes> inputs(scatter.size());
    std::uint64_t trial = 0;
    for (auto _ : state) {
        draw_inputs(scatter, 1, trial, inputs.data());
        benchmark::DoNotOptimize(inputs.data());
        if (stiff) benchmark::DoNotOptimize(pack.stiff(inputs.data()));
        if (spread) benchmark::DoNotOptimize(pack.widest(inputs.data()));
        benchmark::ClobberMemory();
        trial += kLanes;
    }
    state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(kLanes));
}

void only_draws(benchmark::State& state) { pack(state, false, false); }
void draws_and_stiff(benchmark::State& state) { pack(state, true, false); }
void draws_stiff_and_spread(benchmark::State& state) { pack(state, true, true); }
void budget_of_a_page(benchmark::State& state) {
    const Ring ring = six_boards();
    for (auto _ : state) benchmark::DoNotOptimize(budget_last_joint(ring.project, ring.frame, {}));
}

}  // namespace

BENCHMARK(only_draws);
BENCHMARK(draws_and_stiff);
BENCHMARK(draws_stiff_and_spread);
BENCHMARK(budget_of_a_page)->Unit(benchmark::kMicrosecond);
BENCHMARK_MAIN();
