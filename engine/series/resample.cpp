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

/// Pairs of neighbors looked at for the usual interval: a median of this many is as good as of all.
constexpr std::size_t most_gaps = 2000;

int bin_of(double t, const Moments& m) {
  return static_cast<int>(std::floor((t - m.start_s) / m.step_s));
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

/// Fills empty bins between two readings on the straight line through them.
void bridge(double t0, double v0, double t1, double v1, const Moments& m, std::vector<double>& out,
            const std::vector<int>& count) {
  const Bins bins = bins_between(t0, t1, m);
  for (int j = bins.first; j < bins.last; ++j) {
    const auto i = static_cast<std::size_t>(j);
    if (count[i] == 0) out[i] = v0 + (v1 - v0) * (m.center_s(j) - t0) / (t1 - t0);
  }
}

}  // namespace

double usual_interval_s(std::span<const double> seconds, std::span<const double> values) {
  std::vector<double> gaps;
  const std::size_t stride = std::max<std::size_t>(1, seconds.size() / most_gaps);
  gaps.reserve(seconds.size() / stride + 1);
  for (std::size_t i = 0; i < seconds.size(); i += stride) {
    if (!std::isfinite(values[i])) continue;
    std::size_t next = i + 1;
    while (next < seconds.size() && !std::isfinite(values[next])) ++next;
    if (next < seconds.size()) gaps.push_back(seconds[next] - seconds[i]);
  }
  return gaps.empty() ? 0.0 : median(gaps);
}

std::vector<double> on_moments(std::span<const double> seconds, std::span<const double> values,
                               const Moments& m) {
  expects(seconds.size() == values.size() && m.n >= 0 && m.step_s > 0.0);
  std::vector<double> out(static_cast<std::size_t>(m.n), 0.0);
  std::vector<int> count(out.size(), 0);
  const auto is_inside = [&](int j) { return j >= 0 && j < m.n; };
  std::size_t first = seconds.size(), last = 0;
  for (std::size_t i = 0; i < seconds.size(); ++i) {
    if (!std::isfinite(values[i])) continue;
    first = std::min(first, i);
    last = i;
    const int j = bin_of(seconds[i], m);
    if (!is_inside(j)) continue;
    out[static_cast<std::size_t>(j)] += values[i];
    ++count[static_cast<std::size_t>(j)];
  }
  for (std::size_t j = 0; j < out.size(); ++j) out[j] = count[j] > 0 ? out[j] / count[j] : nan;
  if (first == seconds.size()) return out;
  const double interval = usual_interval_s(seconds, values);
  const double reach = std::max(interval, m.step_s) * bridged_intervals;
  const double held = 0.5 * interval;
  bridge(seconds[first] - held, values[first], seconds[first], values[first], m, out, count);
  std::size_t before = first;
  int bin_before = bin_of(seconds[first], m);
  for (std::size_t i = first + 1; i <= last; ++i) {
    if (!std::isfinite(values[i])) continue;
    const int bin = bin_of(seconds[i], m);
    if (bin > bin_before + 1 && seconds[i] - seconds[before] <= reach) {
      bridge(seconds[before], values[before], seconds[i], values[i], m, out, count);
    }
    before = i;
    bin_before = bin;
  }
  bridge(seconds[last], values[last], seconds[last] + held, values[last], m, out, count);
  return out;
}

}  // namespace pitwright::series
