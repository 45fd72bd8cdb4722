#include "food/ensemble.h"

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <ctime>
#include <thread>
#include <vector>

#include <fmt/core.h>

#include "food/cook_piece.h"
#include "food/piece.h"
#include "numeric/random.h"
#include "peak.h"

// food [REPEATS]: what an ensemble costs. 256 members x 12 h of a piece of 1,000 cells; then one
// member of it in double precision. Other programs disturb the clock: the least of the repeats is
// the figure, and processor time is beside it.
namespace {

using namespace pitwright;
using namespace pitwright::food;

struct Spent {
  double clock_s = 1e9, processor_s = 1e9;
};

template <typename Work>
Spent least(int repeats, Work&& work) {
  Spent best;
  for (int i = 0; i < repeats; ++i) {
    const auto busy = std::clock();
    const auto start = std::chrono::steady_clock::now();
    work();
    best.clock_s =
        std::min(best.clock_s,
                 std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
    best.processor_s = std::min(best.processor_s, static_cast<double>(std::clock() - busy) /
                                                      static_cast<double>(CLOCKS_PER_SEC));
  }
  return best;
}

std::vector<Member> members(int count) {
  numeric::Random random(1);
  std::vector<Member> all(static_cast<std::size_t>(count));
  for (auto& m : all) {
    m.thickness = random.uniform(.85, 1.15);
    m.start_c = random.uniform(2, 8);
    m.transfer = random.uniform(.7, 1.4);
    m.humidity = random.uniform(.6, 1.8);
    m.wetness = random.uniform(.6, 1);
    m.crust = random.uniform(.4, 2.5);
    m.air_shift_k = random.uniform(-6, 6);
  }
  return all;
}

const char* name_of(Instructions set) {
  return set == Instructions::avx512 ? "AVX-512" : set == Instructions::avx2 ? "AVX2+FMA" : "SSE2";
}

}  // namespace

int main(int argc, char** argv) {
  const int repeats = argc > 1 ? std::max(1, std::atoi(argv[1])) : 9;
  const auto piece = make_piece({.cut = "brisket", .mass_kg = 6}).value();  // 10 x 10 x 10 cells
  Stage pit;
  pit.air = all_around({.air_c = 110, .humidity = .012, .h_w_m2k = 10});
  pit.air[4].air_c = Track({0, 3600, 7200}, {100, 112, 110});  // so that air is looked up
  const Schedule schedule{{pit}};
  const auto all = members(256);

  fmt::print("256 members x 12 h x 1,000 cells, {} processors; least of {} repeats\n",
             std::thread::hardware_concurrency(), repeats);
  fmt::print("{:<10} {:>8} {:>10} {:>14} {:>11} {:>10} {:>7}\n", "with", "clock s", "processor s",
             "cell updates/s", "GFLOP/cpu s", "peak", "share");
  for (const auto set : {Instructions::baseline, Instructions::avx2, Instructions::avx512}) {
    if (set > best_instructions()) continue;
    EnsembleRun run;
    const auto spent = least(repeats, [&] {
      run = cook_ensemble(piece.brick, piece.material, {}, schedule, all,
                          {.duration_s = 12 * 3600, .instructions = set})
                .value();
    });
    const double peak = peak_flops(set), flops = run.flops / spent.processor_s;
    fmt::print("{:<10} {:>8.3f} {:>10.3f} {:>14.3g} {:>11.1f} {:>10.1f} {:>6.1f}%\n", name_of(set),
               spent.clock_s, spent.processor_s, run.cell_updates / spent.clock_s, flops / 1e9,
               peak / 1e9, 100 * flops / peak);
  }
  const auto one = least(3, [&] {
    (void)cook_body(brick_mesh(piece.brick), piece.material, {}, schedule,
                    {.duration_s = 12 * 3600, .step_s = 60})
        .value();
  });
  fmt::print("one member in double precision, 60 s steps: {:.3f} s, processor {:.3f} s\n",
             one.clock_s, one.processor_s);
}
