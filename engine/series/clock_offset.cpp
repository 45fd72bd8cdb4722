#include "series/clock_offset.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include <fmt/format.h>

#include "base/expects.h"
#include "series/robust.h"

namespace pitwright::series {
namespace {

constexpr double least_common_s = 1200.0;
constexpr double least_common_share = 0.4;
constexpr double least_correlation = 0.3;
constexpr double least_lead = 7.0;  ///< of the best offset over another, in log-likelihood
constexpr double least_sign = 4.0;  ///< over no relation at all, beside the number of tries
constexpr double drift_needs_s = 3600.0;
constexpr std::size_t most_moments = 4096;
constexpr double nan = std::numeric_limits<double>::quiet_NaN();

double median_interval(std::span<const double> seconds) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < seconds.size(); ++i) steps.push_back(seconds[i] - seconds[i - 1]);
  return median(steps);
}

/// Changes on a grid: value j belongs to the moment start_s + j step_s.
struct Changes {
  double start_s = 0.0;
  double step_s = 1.0;
  std::vector<double> values;

  /// Between the grid's moments, on straight lines; NaN outside and beside gaps.
  double at(double moment_s) const {
    const double place = (moment_s - start_s) / step_s;
    if (!(place >= 0.0) || place >= static_cast<double>(values.size()) - 1.0) return nan;
    const auto j = static_cast<std::size_t>(place);
    const double share = place - static_cast<double>(j);
    return (1.0 - share) * values[j] + share * values[j + 1];
  }
};

/// Keeps finite samples only.
void finite_samples(const ClockedChannel& channel, std::vector<double>& seconds,
                    std::vector<double>& values) {
  for (std::size_t i = 0; i < channel.seconds.size(); ++i) {
    if (!std::isfinite(channel.values[i])) continue;
    seconds.push_back(channel.seconds[i]);
    values.push_back(channel.values[i]);
  }
}

/// The channel on a grid: the mean of its samples in a window around each moment, else the straight
/// line between its neighbors, NaN in gaps wider than `gap_s`.
std::vector<double> on_grid(std::span<const double> seconds, std::span<const double> values,
                            double step_s, double window_s, double gap_s) {
  const auto n = static_cast<std::size_t>((seconds.back() - seconds.front()) / step_s) + 1;
  std::vector<double> grid(n, nan);
  std::size_t low = 0;
  std::size_t high = 0;
  double sum = 0.0;
  for (std::size_t j = 0; j < n; ++j) {
    const double moment = seconds.front() + static_cast<double>(j) * step_s;
    while (high < seconds.size() && seconds[high] <= moment + 0.5 * window_s) {
      sum += values[high++];
    }
    while (low < high && seconds[low] < moment - 0.5 * window_s) sum -= values[low++];
    if (high - low >= 2) {
      grid[j] = sum / static_cast<double>(high - low);
      continue;
    }
    const auto after = std::ranges::lower_bound(seconds, moment) - seconds.begin();
    const auto right = std::min(static_cast<std::size_t>(after), seconds.size() - 1);
    const auto left = seconds[right] == moment || right == 0 ? right : right - 1;
    const double span = seconds[right] - seconds[left];
    if (span > gap_s) continue;
    const double share = span > 0.0 ? (moment - seconds[left]) / span : 0.0;
    grid[j] = (1.0 - share) * values[left] + share * values[right];
  }
  return grid;
}

Changes changes_of(std::span<const double> seconds, std::span<const double> values, double step_s,
                   double slower_s) {
  const double over_s = std::max(2.0 * slower_s, 60.0);
  const auto over = static_cast<std::size_t>(std::ceil(over_s / step_s));
  auto level = on_grid(seconds, values, step_s, slower_s, 3.0 * slower_s + step_s);
  Changes changes{seconds.front() + static_cast<double>(over) * step_s, step_s, {}};
  for (std::size_t j = over; j < level.size(); ++j) {
    changes.values.push_back(level[j] - level[j - over]);
  }
  return changes;
}

/// Sums over the moments two channels have in common at one lag.
struct Overlap {
  double n = 0.0, a = 0.0, b = 0.0, aa = 0.0, bb = 0.0, ab = 0.0;

  double correlation() const {
    const double va = aa - a * a / n;
    const double vb = bb - b * b / n;
    return va > 0.0 && vb > 0.0 ? (ab - a * b / n) / std::sqrt(va * vb) : 0.0;
  }
};

/// b's moment j meets a's moment j + lag.
Overlap overlap_at(const Changes& a, const Changes& b, std::ptrdiff_t lag) {
  const auto size_a = static_cast<std::ptrdiff_t>(a.values.size());
  const auto size_b = static_cast<std::ptrdiff_t>(b.values.size());
  Overlap sums;
  for (auto j = std::max<std::ptrdiff_t>(0, -lag); j < std::min(size_b, size_a - lag); ++j) {
    const double x = a.values[static_cast<std::size_t>(j + lag)];
    const double y = b.values[static_cast<std::size_t>(j)];
    if (!(std::isfinite(x) && std::isfinite(y))) continue;
    sums.n += 1.0;
    sums.a += x;
    sums.b += y;
    sums.aa += x * x;
    sums.bb += y * y;
    sums.ab += x * y;
  }
  return sums;
}

struct Candidate {
  std::ptrdiff_t lag = 0;
  double correlation = 0.0;
  double n = 0.0;
  /// Log-likelihood of a moment above "no relation"; thermometers swing the same way, so a negative
  /// correlation counts as none.
  double gain() const {
    const double r = std::clamp(correlation, 0.0, 0.999999);
    return -0.5 * std::log(1.0 - r * r);
  }
};

/// Autocorrelation of `values` up to a quarter of their number; NaN counts as 0.
std::vector<double> autocorrelation(std::span<const double> values) {
  std::vector<double> finite(values.begin(), values.end());
  for (double& v : finite) v = std::isfinite(v) ? v : 0.0;
  double variance = 0.0;
  for (double v : finite) variance += v * v;
  std::vector<double> r{1.0};
  for (std::size_t k = 1; k < finite.size() / 4 && variance > 0.0; ++k) {
    double product = 0.0;
    for (std::size_t j = k; j < finite.size(); ++j) product += finite[j] * finite[j - k];
    r.push_back(product / variance);
  }
  return r;
}

/// How many grid steps make one independent moment of what the fit left over: 1 + 2 sum r, up to
/// where the autocorrelation r first falls below 0.05.
double steps_per_moment(std::span<const double> values) {
  const auto r = autocorrelation(values);
  double sum = 1.0;
  for (std::size_t k = 1; k < r.size() && r[k] >= 0.05; ++k) sum += 2.0 * r[k];
  return sum;
}

/// The same for a correlation of two series that have nothing to do with each other: 1 + 2 sum
/// r_a r_b; a cycle in both remembers itself and makes it large. Source: Bartlett's formula, from
/// memory.
double steps_per_pair(const Changes& a, const Changes& b) {
  const auto ra = autocorrelation(a.values);
  const auto rb = autocorrelation(b.values);
  double sum = 1.0;
  for (std::size_t k = 1; k < std::min(ra.size(), rb.size()); ++k) sum += 2.0 * ra[k] * rb[k];
  return std::max(sum, 1.0);
}

/// b's changes as gain x a's changes at t + offset + drift (t - at).
struct Fit {
  double gain = 1.0, offset_s = 0.0, drift = 0.0;
  double offset_sd_s = 0.0, drift_sd = 0.0;
  double steps_per_moment = 1.0;
  double at_s = 0.0, common_s = 0.0;
  bool good = false;
};

using Matrix = std::array<std::array<double, 3>, 3>;

/// The inverse of the upper-left size x size part of a symmetric matrix; false where it has none.
bool inverted(const Matrix& m, std::size_t size, Matrix& out) {
  Matrix left = m;
  out = {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  for (std::size_t i = 0; i < size; ++i) {
    const double pivot = left[i][i];
    if (!(std::abs(pivot) > 1e-12 * std::abs(m[i][i])) || pivot == 0.0) return false;
    for (std::size_t k = 0; k < size; ++k) {
      left[i][k] /= pivot;
      out[i][k] /= pivot;
    }
    for (std::size_t r = 0; r < size; ++r) {
      const double factor = left[r][i];
      for (std::size_t k = 0; k < size && r != i; ++k) {
        left[r][k] -= factor * left[i][k];
        out[r][k] -= factor * out[i][k];
      }
    }
  }
  return true;
}

/// Normal equations of one step: parameters gain, offset, drift.
struct Normal {
  Matrix m{};
  std::array<double, 3> v{};
  double squares = 0.0;
  std::vector<double> residuals;
};

Normal normal_at(const Changes& a, const Changes& b, const Fit& fit) {
  Normal normal;
  for (std::size_t j = 0; j < b.values.size(); ++j) {
    const double t = b.start_s + static_cast<double>(j) * b.step_s;
    const double moment = t + fit.offset_s + fit.drift * (t - fit.at_s);
    const double x = a.at(moment);
    const double slope = (a.at(moment + a.step_s) - a.at(moment - a.step_s)) / (2.0 * a.step_s);
    if (!std::isfinite(x + slope) || !std::isfinite(b.values[j])) continue;
    const double residual = b.values[j] - fit.gain * x;
    const std::array<double, 3> row{x, fit.gain * slope, fit.gain * slope * (t - fit.at_s)};
    for (std::size_t i = 0; i < 3; ++i) {
      normal.v[i] += row[i] * residual;
      for (std::size_t k = 0; k < 3; ++k) normal.m[i][k] += row[i] * row[k];
    }
    normal.squares += residual * residual;
    normal.residuals.push_back(residual);
  }
  return normal;
}

/// Gauss-Newton from the best grid lag; a step never moves the offset by more than one change's
/// span, so that it stays on the peak it started from.
Fit fitted(const Changes& a, const Changes& b, Fit fit, bool with_drift, double longest_step_s) {
  const std::size_t size = with_drift ? 3 : 2;
  Normal normal;
  Matrix inverse;
  for (int round = 0; round < 12; ++round) {
    normal = normal_at(a, b, fit);
    if (normal.residuals.size() < 10 || !inverted(normal.m, size, inverse)) return fit;
    std::array<double, 3> step{};
    for (std::size_t i = 0; i < size; ++i) {
      for (std::size_t k = 0; k < size; ++k) step[i] += inverse[i][k] * normal.v[k];
    }
    fit.gain += step[0];
    fit.offset_s += std::clamp(step[1], -longest_step_s, longest_step_s);
    fit.drift += std::clamp(step[2], -0.01, 0.01);
    if (std::abs(step[1]) < 0.01 && std::abs(step[2]) < 1e-7) break;
  }
  fit.steps_per_moment = steps_per_moment(normal.residuals);
  const double variance = normal.squares / static_cast<double>(normal.residuals.size() - size);
  fit.offset_sd_s = std::sqrt(variance * fit.steps_per_moment * inverse[1][1]);
  fit.drift_sd = with_drift ? std::sqrt(variance * fit.steps_per_moment * inverse[2][2]) : 0.0;
  fit.common_s = static_cast<double>(normal.residuals.size()) * b.step_s;
  fit.good = fit.gain > 0.0 && std::isfinite(fit.offset_sd_s + fit.drift_sd);
  return fit;
}

/// The middle of the time b shares with a at one lag, on b's clock.
double middle_of(const Changes& a, const Changes& b, double offset_s) {
  const auto end = [](const Changes& c) {
    return c.start_s + static_cast<double>(c.values.size() - 1) * c.step_s;
  };
  const double from = std::max(b.start_s, a.start_s - offset_s);
  return 0.5 * (from + std::min(end(b), end(a) - offset_s));
}

OffsetFinding refused(std::string why) {
  return {std::nullopt, std::move(why)};
}

/// Every lag of the search with enough in common.
std::vector<Candidate> candidates_of(const Changes& a, const Changes& b,
                                     const OffsetSearch& search) {
  const double shift = a.start_s - b.start_s;  // offset of lag 0
  const double step = a.step_s;
  const auto size_a = static_cast<double>(a.values.size());
  const auto size_b = static_cast<double>(b.values.size());
  const double common =
      std::max(least_common_s / step, least_common_share * std::min(size_a, size_b));
  const double first = std::max(std::ceil((search.least_s - shift) / step), common - size_b);
  const double last = std::min(std::floor((search.most_s - shift) / step), size_a - common);
  std::vector<Candidate> found;
  const auto end = static_cast<std::ptrdiff_t>(std::floor(last));
  for (auto lag = static_cast<std::ptrdiff_t>(std::ceil(first)); lag <= end; ++lag) {
    const auto sums = overlap_at(a, b, lag);
    if (sums.n < 0.5 * common) continue;
    found.push_back({lag, sums.correlation(), sums.n});
  }
  return found;
}

/// Log-likelihood by which `best` leads its closest rival, over as many moments as both have; a
/// rival is any offset further away than `apart` lags.
double lead_of(const std::vector<Candidate>& all, const Candidate& best, std::ptrdiff_t apart,
               double per_moment, const Candidate*& rival) {
  double lead = std::numeric_limits<double>::infinity();
  rival = nullptr;
  for (const auto& other : all) {
    if (std::abs(other.lag - best.lag) <= apart) continue;
    const double behind = std::min(best.n, other.n) * (best.gain() - other.gain()) / per_moment;
    if (behind < lead) {
      lead = behind;
      rival = &other;
    }
  }
  return lead;
}

}  // namespace

OffsetFinding find_clock_offset(const ClockedChannel& a, const ClockedChannel& b,
                                const OffsetSearch& search) {
  expects(a.seconds.size() == a.values.size() && b.seconds.size() == b.values.size());
  std::vector<double> ta, va, tb, vb;
  finite_samples(a, ta, va);
  finite_samples(b, tb, vb);
  if (ta.size() < 20 || tb.size() < 20) return refused("one of the channels has too few readings");
  const double slower = std::max(median_interval(ta), median_interval(tb));
  const double longest = std::max(ta.back() - ta.front(), tb.back() - tb.front());
  const double faster = std::min(median_interval(ta), median_interval(tb));
  const double step =
      std::max({faster, slower / 12.0, longest / static_cast<double>(most_moments)});
  const auto changes_a = changes_of(ta, va, step, slower);
  const auto changes_b = changes_of(tb, vb, step, slower);
  const auto all = candidates_of(changes_a, changes_b, search);
  if (all.size() < 3) return refused("the two have too little time in common");
  const auto best =
      *std::ranges::max_element(all, {}, [](const Candidate& c) { return c.n * c.gain(); });
  if (best.correlation < least_correlation) {
    return refused("the two channels do not swing together, or hardly move");
  }
  const double per_pair = steps_per_pair(changes_a, changes_b);
  const double tries = std::max(1.0, static_cast<double>(all.size()) / per_pair);
  if (best.n * best.gain() / per_pair < least_sign + std::log(tries)) {
    return refused("the two channels do not swing together clearly enough");
  }
  if (best.lag == all.front().lag || best.lag == all.back().lag) {
    return refused("the best offset lies at the edge of what was looked at");
  }

  Fit start;
  start.offset_s = changes_a.start_s - changes_b.start_s + static_cast<double>(best.lag) * step;
  start.at_s = middle_of(changes_a, changes_b, start.offset_s);
  const double span = std::max(2.0 * slower, 60.0);
  auto fit = fitted(changes_a, changes_b, start, false, 0.5 * span);
  if (fit.good && fit.common_s >= drift_needs_s) {
    const auto drifting = fitted(changes_a, changes_b, fit, true, 0.5 * span);
    if (drifting.good && std::abs(drifting.drift) > 2.5 * drifting.drift_sd) fit = drifting;
  }
  if (!fit.good || std::abs(fit.offset_s - start.offset_s) > 2.0 * span) {
    return refused("the best offset could not be refined");
  }
  const auto apart = static_cast<std::ptrdiff_t>(std::ceil(span / step));
  const Candidate* rival = nullptr;
  if (lead_of(all, best, apart, fit.steps_per_moment, rival) < least_lead) {
    return refused(fmt::format("another offset, {:.0f} s away, fits nearly as well",
                               static_cast<double>(std::abs(rival->lag - best.lag)) * step));
  }
  const double spread = fit.drift_sd * fit.common_s / std::sqrt(12.0);
  const double sd = std::hypot(fit.offset_sd_s, spread, probe_lag_sd_s);
  return {ClockOffset{fit.offset_s, fit.drift * 3600.0, fit.at_s, 1.96 * sd, best.correlation}, {}};
}

}  // namespace pitwright::series
