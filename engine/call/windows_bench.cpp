#include <benchmark/benchmark.h>

#include "call/panel.h"
#include "call/trial_burn.h"
#include "call/windows.h"

namespace pitwright::call {
namespace {

/// `hours` at 1 Hz with `channels` probes, two settings in stints of 35 min.
Burn long_burn(int hours, int channels) {
  TrialBurn plan{.left_right_change_k = 8.0, .step_s = 1.0};
  plan.order.clear();
  for (int k = 0; k < hours * 60 / 35; ++k)
    plan.order.emplace_back(k % 4 == 1 || k % 4 == 2 ? "B" : "A");
  plan.runs_k.assign(static_cast<std::size_t>(channels), 0.0);
  for (int i = 0; i < channels; ++i) plan.runs_k[static_cast<std::size_t>(i)] = 0.2 * i;
  return plan.burn(1);
}

void measure_panel(benchmark::State& state) {
  const auto burn = long_burn(static_cast<int>(state.range(0)), static_cast<int>(state.range(1)));
  for (auto _ : state) benchmark::DoNotOptimize(make_panel(burn));
}
BENCHMARK(measure_panel)->Args({3, 8})->Args({24, 64})->Unit(benchmark::kMillisecond);

void measure_windows(benchmark::State& state) {
  const auto burn = long_burn(static_cast<int>(state.range(0)), static_cast<int>(state.range(1)));
  const auto panel = make_panel(burn);
  for (auto _ : state) benchmark::DoNotOptimize(find_windows(burn, panel, 1e9));
}
BENCHMARK(measure_windows)->Args({3, 8})->Args({24, 64})->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace pitwright::call
