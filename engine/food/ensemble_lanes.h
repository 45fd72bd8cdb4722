#pragma once

#include <cmath>

namespace pitwright::food {

/// W floats that are worked on together. GCC's vector types: one text for every width.
template <int W>
struct Lanes {
  typedef float V __attribute__((vector_size(W * 4)));
  typedef int I __attribute__((vector_size(W * 4)));

  [[gnu::always_inline]] static inline V all(float x) { return x - V{}; }
  [[gnu::always_inline]] static inline V larger(V a, V b) { return a > b ? a : b; }
  [[gnu::always_inline]] static inline V smaller(V a, V b) { return a < b ? a : b; }

  /// e^x for |x| < 80, to 2 units in the last place: 2^n times a polynomial of the rest.
  [[gnu::always_inline]] static inline V exponential(V x) {
    constexpr float magic = 12582912.0f;  // 1.5 x 2^23: its low bits hold the rounded number
    const V shifted = x * 1.44269504f + magic;
    const V n = shifted - magic;
    const V f = (x - n * 0.693359375f) + n * 2.12194440e-4f;
    V p = all(1.9875691e-4f);
    p = p * f + 1.3981999e-3f;
    p = p * f + 8.3334519e-3f;
    p = p * f + 4.1665795e-2f;
    p = p * f + 1.6666665e-1f;
    p = p * f + 0.5f;
    p = p * f * f + f + 1.0f;
    return reinterpret_cast<V>(reinterpret_cast<I>(p) + (reinterpret_cast<I>(shifted) << 23));
  }
};

}  // namespace pitwright::food
