#include "food/legendre.h"

#include <cmath>

#include "base/expects.h"

namespace pitwright::food {

std::vector<LegendreStage> legendre_stages(int s) {
  expects(s >= 3 && s % 2 == 1);
  const auto b = [](int j) { return j < 2 ? 1.0 / 3 : (j * j + j - 2.0) / (2.0 * j * (j + 1)); };
  const double w1 = 4.0 / (s * s + s - 2);
  std::vector<LegendreStage> table{{0, 0, b(1) * w1, 0}};
  for (int j = 2; j <= s; ++j) {
    const double mu = (2.0 * j - 1) / j * b(j) / b(j - 1);
    const double nu = -(j - 1.0) / j * b(j) / b(j - 2);
    table.push_back({mu, nu, mu * w1, -(1 - b(j - 1)) * mu * w1});
  }
  return table;
}

int legendre_count(double fastest_per_s, double step_s) {
  const double reach = 2.0 * fastest_per_s * step_s;  // s^2 + s - 2 must reach it
  int s = 3;
  while (s * s + s - 2 < reach) s += 2;
  return s;
}

LegendreStep::LegendreStep(int size)
    : rate_start_(static_cast<std::size_t>(size)), rate_(static_cast<std::size_t>(size)) {}

}  // namespace pitwright::food
