// The call without panel and windows. Run: call_bench, release preset.
#include <benchmark/benchmark.h>

#include "call/judge.h"
#include "call/practice_burn.h"

namespace {

using pitwright::call::PracticeBurn;

/// `spots` spots in a row, A and B in turn.
PracticeBurn practice(int spots, int stints, double dwell_s, double step_s) {
  PracticeBurn p;
  p.order.clear();
  for (int k = 0; k < stints; ++k)
    p.order.push_back(std::vector{0, 1, 2, 2, 1, 0}[static_cast<std::size_t>(k % 6)]);
  p.dwell_s = dwell_s;
  p.step_s = step_s;
  p.level_k = {120.0, 122.0, 125.0};
  p.runs_k.assign(3, {});
  for (auto& runs : p.runs_k)
    for (int i = 0; i < spots; ++i) runs.push_back(10.0 * (i / (spots - 1.0) - 0.5));
  return p;
}

void judge_of(benchmark::State& state, const PracticeBurn& p) {
  const auto burn = p.burn();
  const auto windows = p.windows();
  const auto panel = p.panel(1);
  for (auto _ : state) benchmark::DoNotOptimize(pitwright::call::judge(burn, panel, windows));
}

void eight_spots_six_stints(benchmark::State& state) {
  judge_of(state, practice(8, 6, 1800.0, 1.0));
}
BENCHMARK(eight_spots_six_stints)->Unit(benchmark::kMillisecond);

void sixty_four_spots_a_day(benchmark::State& state) {
  judge_of(state, practice(64, 24, 3600.0, 1.0));
}
BENCHMARK(sixty_four_spots_a_day)->Unit(benchmark::kMillisecond);

}  // namespace
