#include "peak.h"

#include <algorithm>
#include <ctime>
#include <thread>

#include "food/ensemble_block.h"
#include "food/ensemble_lanes.h"
#include "numeric/parallel.h"

namespace {

using namespace pitwright::food;

constexpr int chains = 12, rounds = 400'000;
float sink[64];

template <int W>
[[gnu::always_inline]] inline void multiply_add(int where) {
  using V = typename Lanes<W>::V;
  V sum[chains];
  for (int c = 0; c < chains; ++c) sum[c] = V{} + static_cast<float>(c);
  const V a = V{} + 0.999f, b = V{} + 0.001f;
  for (int i = 0; i < rounds; ++i) {
    for (int c = 0; c < chains; ++c) {
      sum[c] = sum[c] * a + b;
      asm volatile("" : "+x"(sum[c]));  // each is really done
    }
  }
  V all{};
  for (int c = 0; c < chains; ++c) all += sum[c];
  sink[where] = all[0];
}

template <int W>
[[gnu::always_inline]] inline void multiply_add_512(int where) {
  using V = typename Lanes<W>::V;
  V sum[chains];
  for (int c = 0; c < chains; ++c) sum[c] = V{} + static_cast<float>(c);
  const V a = V{} + 0.999f, b = V{} + 0.001f;
  for (int i = 0; i < rounds; ++i) {
    for (int c = 0; c < chains; ++c) {
      sum[c] = sum[c] * a + b;
      asm volatile("" : "+v"(sum[c]));
    }
  }
  V all{};
  for (int c = 0; c < chains; ++c) all += sum[c];
  sink[where] = all[0];
}

[[gnu::target("avx512f,avx2,fma")]] void work_512(int where) { multiply_add_512<16>(where); }
[[gnu::target("avx2,fma")]] void work_256(int where) { multiply_add<8>(where); }
void work_128(int where) { multiply_add<4>(where); }

}  // namespace

double peak_flops(Instructions instructions) {
  const int tasks = 8 * static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
  double best = 0;
  for (int repeat = 0; repeat < 15; ++repeat) {
    const auto start = std::clock();
    pitwright::numeric::parallel_for(tasks, [&](int i) {
      const int where = i % 64;
      if (instructions == Instructions::avx512) work_512(where);
      else if (instructions == Instructions::avx2) work_256(where);
      else work_128(where);
    });
    const double s =
        static_cast<double>(std::clock() - start) / static_cast<double>(CLOCKS_PER_SEC);
    best = std::max(best, 2.0 * tasks * lanes(instructions) * chains * rounds / s);
  }
  return best;
}
