#include "numeric/normal_tail.h"

#include <array>
#include <cmath>
#include <numbers>

namespace pitwright::numeric {
namespace {

constexpr double reach = 9.0;
constexpr double per_unit = 64.0;
constexpr int nodes = 2 * static_cast<int>(reach * per_unit) + 1;

NormalTail exact(double z) {
  return {0.5 * std::erfc(z / std::numbers::sqrt2),
          std::exp(-0.5 * z * z) * std::numbers::inv_sqrtpi / std::numbers::sqrt2};
}

std::array<NormalTail, nodes> make_table() {
  std::array<NormalTail, nodes> table{};
  for (int i = 0; i < nodes; ++i) table[static_cast<std::size_t>(i)] = exact(i / per_unit - reach);
  return table;
}

const auto table = make_table();

}  // namespace

NormalTail normal_tail(double z) {
  if (!(std::abs(z) < reach)) return exact(z);
  const int i = static_cast<int>((z + reach) * per_unit + 0.5);
  const double x = i / per_unit - reach;  // exact in binary
  const double d = z - x;
  const double x2 = x * x;
  // Hermite polynomials of x.
  const double h2 = x2 - 1.0, h3 = x * (x2 - 3.0), h4 = x2 * (x2 - 6.0) + 3.0;
  const double h5 = x * (x2 * (x2 - 10.0) + 15.0);
  const auto [Q, phi] = table[static_cast<std::size_t>(i)];
  const double below =
      d * (1.0 +
           d * (-x / 2.0 + d * (h2 / 6.0 + d * (-h3 / 24.0 + d * (h4 / 120.0 - d * h5 / 720.0)))));
  const double h6 = x2 * (x2 * (x2 - 15.0) + 45.0) - 15.0;
  const double rise =
      1.0 + d * (-x + d * (h2 / 2.0 +
                           d * (-h3 / 6.0 + d * (h4 / 24.0 + d * (-h5 / 120.0 + d * h6 / 720.0)))));
  return {Q - phi * below, phi * rise};
}

}  // namespace pitwright::numeric
