#include "numeric/random.h"

#include <bit>
#include <cmath>

#include "base/expects.h"

namespace pitwright::numeric {
namespace {

std::uint64_t splitmix(std::uint64_t& x) {
  x += 0x9e3779b97f4a7c15u;
  std::uint64_t z = x;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

}  // namespace

Random::Random(std::uint64_t seed, std::uint64_t stream) {
  std::uint64_t x = stream;
  x = seed ^ splitmix(x);
  for (auto& word : state_) word = splitmix(x);
}

std::uint64_t Random::bits() {
  const std::uint64_t result = std::rotl(state_[0] + state_[3], 23) + state_[0];
  const std::uint64_t t = state_[1] << 17;
  state_[2] ^= state_[0];
  state_[3] ^= state_[1];
  state_[1] ^= state_[2];
  state_[0] ^= state_[3];
  state_[2] ^= t;
  state_[3] = std::rotl(state_[3], 45);
  return result;
}

double Random::uniform() {
  return static_cast<double>(bits() >> 11) * 0x1.0p-53;
}

double Random::uniform(double low, double high) {
  return low + (high - low) * uniform();
}

double Random::normal() {
  if (has_spare_) {
    has_spare_ = false;
    return spare_;
  }
  double u = 0.0, v = 0.0, s = 0.0;
  do {
    u = uniform(-1.0, 1.0);
    v = uniform(-1.0, 1.0);
    s = u * u + v * v;
  } while (s >= 1.0 || s == 0.0);
  const double scale = std::sqrt(-2.0 * std::log(s) / s);
  spare_ = v * scale;
  has_spare_ = true;
  return u * scale;
}

double Random::exponential(double mean) {
  return -mean * std::log1p(-uniform());
}

int Random::below(int n) {
  expects(n > 0);
  return static_cast<int>(uniform() * n);
}

}  // namespace pitwright::numeric
