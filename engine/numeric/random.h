#pragma once

#include <cstdint>

namespace pitwright::numeric {

/// A stream of random numbers that is the same on every machine and compiler: xoshiro256++ seeded
/// by splitmix64. `stream` gives independent streams of one seed. Source: Blackman & Vigna,
/// "Scrambled linear pseudorandom number generators", ACM TOMS 47 (2021).
class Random {
 public:
  explicit Random(std::uint64_t seed, std::uint64_t stream = 0);

  std::uint64_t bits();
  double uniform();                         ///< in [0, 1), 53 bits
  double uniform(double low, double high);  ///< in [low, high)
  double normal();                          ///< mean 0, sd 1; Marsaglia's polar method
  double exponential(double mean);
  int below(int n);  ///< in 0 .. n-1; Pre: n > 0

 private:
  std::uint64_t state_[4];
  double spare_ = 0.0;
  bool has_spare_ = false;
};

}  // namespace pitwright::numeric
