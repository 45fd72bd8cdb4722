#include "peak.h"

#include <algorithm>
#include <ctime>
#include <thread>

#include "food/ensemble_block.h"
#include "food/ensemble_lanes.h"
#include "numeric/parallel.h"

namespace {

using namespace pitwright::food;

constexpr int chains = 10, rounds = 400'000;
float sink[64];

/// PIN names the registers that the compiler may use: x, or v for the 32 of AVX-512.
#define PITWRIGHT_CHAINS(PIN)                                                              \
  using V = typename Lanes<W>::V;                                                          \
  V s0{}, s1{}, s2{}, s3{}, s4{}, s5{}, s6{}, s7{}, s8{}, s9{};                            \
  const V a = V{} + 0.999f, b = V{} + 0.001f;                                              \
  for (int i = 0; i < rounds; ++i) {                                                       \
    s0 = s0 * a + b, s1 = s1 * a + b, s2 = s2 * a + b, s3 = s3 * a + b, s4 = s4 * a + b;   \
    s5 = s5 * a + b, s6 = s6 * a + b, s7 = s7 * a + b, s8 = s8 * a + b, s9 = s9 * a + b;   \
    asm volatile(""                                                                        \
                 : PIN(s0), PIN(s1), PIN(s2), PIN(s3), PIN(s4), PIN(s5), PIN(s6), PIN(s7), \
                   PIN(s8), PIN(s9));                                                      \
  }                                                                                        \
  sink[where] = (s0 + s1 + s2 + s3 + s4 + s5 + s6 + s7 + s8 + s9)[0]

template <int W>
[[gnu::always_inline]] inline void multiply_add(int where) {
  PITWRIGHT_CHAINS("+x");
}

template <int W>
[[gnu::always_inline]] inline void multiply_add_512(int where) {
  PITWRIGHT_CHAINS("+v");
}

[[gnu::target("avx512f,avx2,fma")]] void work_512(int where) {
  multiply_add_512<16>(where);
}
[[gnu::target("avx2,fma")]] void work_256(int where) {
  multiply_add<8>(where);
}
void work_128(int where) {
  multiply_add<4>(where);
}

}  // namespace

double peak_flops(Instructions instructions) {
  const int tasks = 8 * static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
  double best = 0;
  for (int repeat = 0; repeat < 15; ++repeat) {
    const auto start = std::clock();
    pitwright::numeric::parallel_for(tasks, [&](int i) {
      const int where = i % 64;
      if (instructions == Instructions::avx512)
        work_512(where);
      else if (instructions == Instructions::avx2)
        work_256(where);
      else
        work_128(where);
    });
    const double s =
        static_cast<double>(std::clock() - start) / static_cast<double>(CLOCKS_PER_SEC);
    best = std::max(best, 2.0 * tasks * lanes(instructions) * chains * rounds / s);
  }
  return best;
}
