#include "series/moments.h"

#include <cmath>
#include <limits>

namespace pitwright::series {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

struct Sums {
  int n = 0;
  double mean = nan;
  double squares = 0.0;  ///< of deviations from the mean
};

Sums sums_of(std::span<const double> values) {
  Sums out;
  double sum = 0.0;
  for (const double v : values) {
    if (!std::isfinite(v)) continue;
    sum += v;
    ++out.n;
  }
  if (out.n == 0) return out;
  const double first = sum / out.n;
  double left_over = 0.0, squares = 0.0;
  for (const double v : values) {
    if (!std::isfinite(v)) continue;
    left_over += v - first;
    squares += (v - first) * (v - first);
  }
  out.mean = first + left_over / out.n;
  out.squares = squares - left_over * left_over / out.n;
  return out;
}

}  // namespace

double mean(std::span<const double> values) {
  return sums_of(values).mean;
}

double standard_deviation(std::span<const double> values) {
  const Sums s = sums_of(values);
  return s.n < 2 ? nan : std::sqrt(s.squares / (s.n - 1));
}

double lag1_autocorrelation(std::span<const double> values) {
  const Sums s = sums_of(values);
  if (s.n < 2 || s.squares <= 0.0) return nan;
  double products = 0.0;
  for (std::size_t i = 0; i + 1 < values.size(); ++i) {
    const double p = (values[i] - s.mean) * (values[i + 1] - s.mean);
    if (std::isfinite(p)) products += p;
  }
  return products / s.squares;
}

}  // namespace pitwright::series
