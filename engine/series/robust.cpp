#include "series/robust.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pitwright::series {
namespace {

std::vector<double> finite_of(std::span<const double> values) {
  std::vector<double> kept;
  kept.reserve(values.size());
  std::ranges::copy_if(values, std::back_inserter(kept), [](double v) { return std::isfinite(v); });
  return kept;
}

double median_in_place(std::vector<double>& values) {
  if (values.empty()) return std::numeric_limits<double>::quiet_NaN();
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::ranges::nth_element(values, middle);
  const double upper = *middle;
  if (values.size() % 2 == 1) return upper;
  return 0.5 * (upper + *std::max_element(values.begin(), middle));
}

}  // namespace

double median(std::span<const double> values) {
  auto kept = finite_of(values);
  return median_in_place(kept);
}

double robust_sd(std::span<const double> values) {
  auto kept = finite_of(values);
  const double center = median_in_place(kept);
  for (double& v : kept) v = std::abs(v - center);
  return 1.4826 * median_in_place(kept);
}

}  // namespace pitwright::series
