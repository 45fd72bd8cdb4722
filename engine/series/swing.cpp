#include "series/swing.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "base/expects.h"
#include "series/moments.h"
#include "series/smooth.h"

namespace pitwright::series {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double grid_ratio = 1.03;           ///< between neighboring candidates
constexpr int samples_a_cycle = 24;           ///< kept when the series is thinned for a candidate
constexpr int fewest_samples_a_cycle = 6;     ///< below, a cycle cannot be seen
constexpr double fewest_cycles = 3.0;         ///< in the record
constexpr double comb_weight = 0.8;           ///< a tenth of jitter costs r(P) about a fifth
constexpr int most_comb_teeth = 4;            ///< cycles compared ahead
constexpr double bar_at_one_cycle = 1.15;     ///< likeness asked for: bar / sqrt(cycles), see docs
constexpr double lowest_bar = 0.16;           ///< and never less than this
constexpr double longest_scatter = 0.35;      ///< of single cycles, as a share of the period
constexpr double clip_sds = 3.5;              ///< steps and lid openings are cut to this
constexpr double irregular_stretch_s = 1500;  ///< where there is no period, sizes are taken over it

/// The series around one candidate: thinned, made flat over two periods, smoothed over a sixth.
struct Band {
  std::vector<double> y;
  double step_s;
};

double mean_size(const std::vector<double>& y, double cap) {
  double sum = 0.0;
  int n = 0;
  for (const double v : y) {
    if (!std::isfinite(v)) continue;
    sum += std::min(std::abs(v), cap);
    ++n;
  }
  return n > 0 ? sum / n : 0.0;
}

/// Cuts what sticks out to clip_sds; the sd is a normal's with this mean size, sqrt(pi / 2) of it,
/// taken a second time without what sticks out of the first.
void clip(std::vector<double>& y) {
  const double rough = mean_size(y, INFINITY);
  const double limit = clip_sds * 1.2533 * mean_size(y, 3.0 * rough);
  if (!(limit > 0.0)) return;
  for (double& v : y) {
    if (std::isfinite(v)) v = std::clamp(v, -limit, limit);
  }
}

Band band_of(std::span<const double> thin, double step_s, double period_s) {
  const int half = std::max(1, static_cast<int>(std::lround(period_s / step_s)));
  const auto slow = running_line(thin, half);
  Band band{{thin.begin(), thin.end()}, step_s};
  for (std::size_t i = 0; i < slow.size(); ++i) band.y[i] -= slow[i];
  clip(band.y);
  const int smooth_half = static_cast<int>(std::lround(period_s / step_s / 12.0));
  if (smooth_half < 1) return band;
  auto smoothed = running_mean(band.y, smooth_half);
  for (std::size_t i = 0; i < smoothed.size(); ++i) {
    if (!std::isfinite(band.y[i])) smoothed[i] = nan;
  }
  band.y = std::move(smoothed);
  return band;
}

/// Correlation of y(t) with y(t + lag), lag between samples on a straight line; NaN without pairs.
double correlation_at(const std::vector<double>& y, double lag) {
  const auto whole = static_cast<std::size_t>(lag);
  const double part = lag - static_cast<double>(whole);
  double cross = 0.0, first = 0.0, second = 0.0;
  for (std::size_t i = 0; i + whole + 1 < y.size(); ++i) {
    const double a = y[i];
    const double b = y[i + whole] + part * (y[i + whole + 1] - y[i + whole]);
    if (!std::isfinite(a + b)) continue;
    cross += a * b;
    first += a * a;
    second += b * b;
  }
  return first > 0.0 && second > 0.0 ? cross / std::sqrt(first * second) : nan;
}

double likeness_of(const Band& band, double period_s, double cycles) {
  const int teeth = std::clamp(static_cast<int>(cycles / 2.0), 1, most_comb_teeth);
  double sum = 0.0, weights = 0.0, weight = 1.0;
  for (int k = 1; k <= teeth; ++k, weight *= comb_weight) {
    const double in_step = correlation_at(band.y, k * period_s / band.step_s);
    const double against = correlation_at(band.y, (k - 0.5) * period_s / band.step_s);
    if (!std::isfinite(in_step + against)) break;
    sum += weight * 0.5 * (in_step - against);
    weights += weight;
  }
  return weights > 0.0 ? sum / weights : -1.0;
}

/// Ups and downs one by one: lengths between rises through zero, and their peak to trough.
struct Beats {
  std::vector<double> lengths_s, sizes;
};

/// A rise counts once y has been below -hysteresis and then exceeds +hysteresis; its moment is the
/// last crossing of zero in between.
Beats beats_of(const std::vector<double>& y, std::span<const double> heights, double step_s,
               double hysteresis) {
  Beats out;
  bool is_low = false, is_broken = true;
  double crossing = nan, last_rise = nan;
  double low = INFINITY, high = -INFINITY;
  for (std::size_t i = 0; i < y.size(); ++i) {
    if (!std::isfinite(y[i])) {
      is_broken = true;
      continue;
    }
    if (std::isfinite(heights[i])) {
      low = std::min(low, heights[i]);
      high = std::max(high, heights[i]);
    }
    if (y[i] < -hysteresis) is_low = true;
    if (i > 0 && y[i - 1] < 0.0 && y[i] >= 0.0) {
      crossing = static_cast<double>(i) - y[i] / (y[i] - y[i - 1]);
    }
    if (!is_low || y[i] <= hysteresis) continue;
    is_low = false;
    if (!is_broken && std::isfinite(crossing) && std::isfinite(last_rise)) {
      out.lengths_s.push_back((crossing - last_rise) * step_s);
      out.sizes.push_back(high - low);
    }
    is_broken = !std::isfinite(crossing);
    last_rise = crossing;
    low = INFINITY;
    high = -INFINITY;
  }
  return out;
}

/// Series less its slow part over `around_s`, smoothed over a twentieth of it: what sizes are read
/// from.
std::vector<double> heights_of(std::span<const double> thin, double step_s, double around_s) {
  const auto slow =
      running_line(thin, std::max(1, static_cast<int>(std::lround(around_s / step_s))));
  std::vector<double> out(thin.size());
  for (std::size_t i = 0; i < out.size(); ++i) out[i] = thin[i] - slow[i];
  clip(out);
  const int half = static_cast<int>(std::lround(around_s / step_s / 40.0));
  return half < 1 ? out : running_mean(out, half);
}

int thinning_for(double period_s, double step_s) {
  return std::max(1, static_cast<int>(period_s / samples_a_cycle / step_s));
}

double covered_s(std::span<const double> values, double step_s) {
  return step_s * static_cast<double>(
                      std::ranges::count_if(values, [](double v) { return std::isfinite(v); }));
}

/// Length, scatter and size of the cycles near `period_s`; period empty where they are too few or
/// too unlike.
Cycle measure_cycles(std::span<const double> values, double step_s, double period_s) {
  const int every = thinning_for(period_s, step_s);
  const auto thin = thinned(values, every);
  const Band band = band_of(thin, step_s * every, period_s);
  const auto heights = heights_of(thin, band.step_s, period_s);
  const Beats beats = beats_of(band.y, heights, band.step_s, 0.4 * standard_deviation(band.y));
  std::vector<double> lengths, sizes;
  for (std::size_t i = 0; i < beats.lengths_s.size(); ++i) {
    const double ratio = beats.lengths_s[i] / period_s;
    if (ratio < 0.5 || ratio > 1.5) continue;
    lengths.push_back(beats.lengths_s[i]);
    sizes.push_back(beats.sizes[i]);
  }
  Cycle out;
  out.cycles = static_cast<int>(lengths.size());
  if (lengths.size() < 2) return out;
  const double length = mean(lengths);
  out.size = mean(sizes);
  out.scatter_s = standard_deviation(lengths);
  const bool is_steady = out.scatter_s < longest_scatter * length;
  const bool is_seen =
      std::accumulate(lengths.begin(), lengths.end(), 0.0) > 0.4 * covered_s(values, step_s);
  if (is_steady && is_seen) out.period_s = length;
  return out;
}

/// Mean peak to trough of ups and downs without a steady length.
Cycle irregular(std::span<const double> values, double step_s) {
  Cycle out;
  const double around_s = std::min(irregular_stretch_s, covered_s(values, step_s) / 3.0);
  if (!(around_s > 2.0 * step_s)) return out;
  const int every = thinning_for(0.25 * around_s, step_s);
  const auto thin = thinned(values, every);
  const auto heights = heights_of(thin, step_s * every, around_s);
  const double spread = standard_deviation(heights);
  if (!(spread > 0.0)) return out;
  const Beats beats = beats_of(heights, heights, step_s * every, spread);
  out.size = beats.sizes.empty() ? 2.0 * std::sqrt(2.0) * spread : mean(beats.sizes);
  return out;
}

struct Candidate {
  double period_s, likeness, excess;  ///< excess over the bar, as a ratio
};

double bar_for(double cycles) {
  return std::max(lowest_bar, bar_at_one_cycle / std::sqrt(cycles));
}

Candidate best_candidate(std::span<const double> values, double step_s, double from_s,
                         double to_s) {
  const double record_s = covered_s(values, step_s);
  Candidate best{0.0, -1.0, -1.0};
  std::vector<double> thin;
  int thin_every = 0;
  const int candidates = 1 + static_cast<int>(std::log(to_s / from_s) / std::log(grid_ratio));
  for (int c = 0; c < candidates; ++c) {
    const double period_s = from_s * std::pow(grid_ratio, c);
    const int every = thinning_for(period_s, step_s);
    if (every >= 2 * thin_every || every == 1 || thin_every == 0) {
      if (every != thin_every) thin = thinned(values, every);
      thin_every = every;
    }
    const double cycles = record_s / period_s;
    const double likeness =
        likeness_of(band_of(thin, step_s * thin_every, period_s), period_s, cycles);
    const double excess = likeness / bar_for(cycles);
    if (excess > best.excess) best = {period_s, likeness, excess};
  }
  return best;
}

}  // namespace

Cycle find_cycle(std::span<const double> values, double step_s, const CycleRange& range) {
  expects(step_s > 0.0);
  const double record_s = covered_s(values, step_s);
  const double shortest_s = std::max(range.shortest_s, fewest_samples_a_cycle * step_s);
  const double longest_s = std::min(range.longest_s, record_s / fewest_cycles);
  Cycle none = irregular(values, step_s);
  if (longest_s < shortest_s || !(standard_deviation(values) > 0.0)) return none;
  const Candidate best = best_candidate(values, step_s, shortest_s, longest_s);
  none.likeness = best.likeness;
  if (best.excess < 1.0) return none;
  Cycle found = measure_cycles(values, step_s, best.period_s);
  found.likeness = best.likeness;
  if (found.period_s) return found;
  return none;
}

Cycle cycle_near(std::span<const double> values, double step_s, std::optional<double> period_s) {
  expects(step_s > 0.0);
  Cycle out;
  if (period_s && standard_deviation(values) > 0.0) {
    out = measure_cycles(values, step_s, *period_s);
    if (out.period_s && std::abs(*out.period_s / *period_s - 1.0) < 0.2) return out;
  }
  return irregular(values, step_s);
}

}  // namespace pitwright::series
