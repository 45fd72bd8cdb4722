#include "series/resample.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/expects.h"
#include "series/robust.h"

namespace pitwright::series {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double bridged_intervals = 1.5;

int bin_of(double t, const Moments& m) {
  return static_cast<int>(std::floor((t - m.start_s) / m.step_s));
}

std::vector<double> bin_means(std::span<const double> seconds, std::span<const double> values,
                              const Moments& m) {
  std::vector<double> sum(static_cast<std::size_t>(m.n), 0.0);
  std::vector<int> count(static_cast<std::size_t>(m.n), 0);
  const double end_s = m.start_s + m.n * m.step_s;
  for (std::size_t i = 0; i < seconds.size(); ++i) {
    if (!std::isfinite(values[i]) || seconds[i] < m.start_s || seconds[i] >= end_s) continue;
    const auto j = static_cast<std::size_t>(std::min(bin_of(seconds[i], m), m.n - 1));
    sum[j] += values[i];
    ++count[j];
  }
  for (std::size_t j = 0; j < sum.size(); ++j) {
    sum[j] = count[j] > 0 ? sum[j] / count[j] : nan;
  }
  return sum;
}

/// Bins whose center lies strictly inside (from_s, to_s), clipped to the moments: [first, last).
struct Bins {
  int first, last;
};

Bins bins_between(double from_s, double to_s, const Moments& m) {
  const double low = (from_s - m.start_s) / m.step_s - 0.5;
  const double high = (to_s - m.start_s) / m.step_s - 0.5;
  if (high < 0.0 || low > m.n) return {0, 0};
  return {std::max(0, static_cast<int>(std::ceil(low))),
          std::min(m.n, static_cast<int>(std::floor(high)) + 1)};
}

}  // namespace

double usual_interval_s(std::span<const double> seconds, std::span<const double> values) {
  std::vector<double> gaps;
  gaps.reserve(seconds.size());
  double last = nan;
  for (std::size_t i = 0; i < seconds.size(); ++i) {
    if (!std::isfinite(values[i])) continue;
    if (std::isfinite(last)) gaps.push_back(seconds[i] - last);
    last = seconds[i];
  }
  return gaps.empty() ? 0.0 : median(gaps);
}

std::vector<double> on_moments(std::span<const double> seconds, std::span<const double> values,
                               const Moments& m) {
  expects(seconds.size() == values.size() && m.n >= 0 && m.step_s > 0.0);
  auto out = bin_means(seconds, values, m);
  const double interval = usual_interval_s(seconds, values);
  const double reach = std::max(interval, m.step_s) * bridged_intervals;
  double t0 = nan, v0 = nan;
  for (std::size_t i = 0; i < seconds.size(); ++i) {
    if (!std::isfinite(values[i])) continue;
    const double t1 = seconds[i], v1 = values[i];
    const bool is_first = !std::isfinite(t0);
    const double from = is_first ? t1 - 0.5 * interval : t0;
    if (is_first || t1 - t0 <= reach) {
      // The bins in between are few; most logs never enter this loop's body.
      const Bins bins = bins_between(from, t1, m);
      for (int j = bins.first; j < bins.last; ++j) {
        double& y = out[static_cast<std::size_t>(j)];
        if (std::isfinite(y)) continue;
        y = is_first ? v1 : v0 + (v1 - v0) * (m.center_s(j) - t0) / (t1 - t0);
      }
    }
    t0 = t1;
    v0 = v1;
  }
  if (std::isfinite(t0)) {
    const Bins bins = bins_between(t0, t0 + 0.5 * interval, m);
    for (int j = bins.first; j < bins.last; ++j) {
      double& y = out[static_cast<std::size_t>(j)];
      if (!std::isfinite(y)) y = v0;
    }
  }
  return out;
}

}  // namespace pitwright::series
