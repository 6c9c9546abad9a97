// Cost per board of the whole way from 6 to 100,000 boards. Target: per board at 100,000 within 3 times that at 1,000.
#include <benchmark/benchmark.h>

#include <cmath>

#include "base/angle.hpp"
#include "plan/plan.hpp"

namespace {

// A ring of n boards, every third one thinner, on a circle large enough that each side is 400 mm long.
boardring::Project ring(std::size_t n) {
    boardring::Project project;
    project.title = "bench";
    project.lie = boardring::Lie::on_edge;
    project.outline.form = boardring::RegularOutline{n, boardring::RegularOutline::Of::side, 400.0};
    project.outline.form_pointer = "/outline/regular";
    project.outline.margin_mm.assign(n, 0.0);
    project.joints.assign(n, {});
    for (std::size_t k = 0; k < n; ++k) {
        project.boards.push_back({std::nullopt, 145.0, k % 3 == 0 ? 37.999 : 38.0, "/boards/all"});
    }
    return project;
}

void whole_way(benchmark::State& state) {
    const boardring::Project project = ring(static_cast<std::size_t>(state.range(0)));
    for (auto _ : state) {
        boardring::Plan plan = boardring::make_plan(project);
        if (!plan.complete()) state.SkipWithError("the ring did not plan");
        benchmark::DoNotOptimize(plan);
    }
    state.counters["per_board"] = benchmark::Counter(static_cast<double>(state.range(0)),
                                                     benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

}  // namespace

BENCHMARK(whole_way)->Arg(6)->Arg(1000)->Arg(100000)->Unit(benchmark::kMillisecond);
BENCHMARK_MAIN();
