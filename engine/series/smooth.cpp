#include "series/smooth.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/expects.h"

namespace pitwright::series {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr int common_rounds = 30;
constexpr double common_converged_k = 1e-7;

/// Running sums over the finite values before each index, of 1, t, t^2, x and t x, with t counted
/// from the middle and x from the mean, so that differences of sums keep their digits.
struct Prefix {
  std::vector<double> n, t, tt, x, tx;
  double center = 0.0;
  double origin = 0.0;

  explicit Prefix(std::span<const double> values) {
    const std::size_t size = values.size();
    for (auto* v : {&n, &t, &tt, &x, &tx}) v->assign(size + 1, 0.0);
    double sum = 0.0, count = 0.0;
    for (const double v : values) {
      if (!std::isfinite(v)) continue;
      sum += v;
      count += 1.0;
    }
    origin = count > 0.0 ? sum / count : 0.0;
    center = 0.5 * static_cast<double>(size);
    for (std::size_t i = 0; i < size; ++i) {
      const bool is_good = std::isfinite(values[i]);
      const double ti = static_cast<double>(i) - center;
      const double xi = is_good ? values[i] - origin : 0.0;
      n[i + 1] = n[i] + (is_good ? 1.0 : 0.0);
      t[i + 1] = t[i] + (is_good ? ti : 0.0);
      tt[i + 1] = tt[i] + (is_good ? ti * ti : 0.0);
      x[i + 1] = x[i] + xi;
      tx[i + 1] = tx[i] + ti * xi;
    }
  }
};

double offset_against(std::span<const double> y, const std::vector<double>& common) {
  double sum = 0.0;
  int n = 0;
  for (std::size_t t = 0; t < y.size(); ++t) {
    const double d = y[t] - common[t];
    if (!std::isfinite(d)) continue;
    sum += d;
    ++n;
  }
  return n > 0 ? sum / n : nan;
}

void renew_common(std::span<const std::span<const double>> series,
                  const std::vector<double>& offsets, std::vector<double>& common,
                  std::vector<int>& count) {
  count.assign(common.size(), 0);
  std::ranges::fill(common, 0.0);
  for (std::size_t i = 0; i < series.size(); ++i) {
    if (!std::isfinite(offsets[i])) continue;
    for (std::size_t t = 0; t < common.size(); ++t) {
      const double v = series[i][t] - offsets[i];
      const bool is_good = std::isfinite(v);
      common[t] += is_good ? v : 0.0;
      count[t] += is_good ? 1 : 0;
    }
  }
  for (std::size_t t = 0; t < common.size(); ++t) {
    common[t] = count[t] > 0 ? common[t] / count[t] : nan;
  }
}

bool has_gaps(std::span<const std::span<const double>> series) {
  for (const auto y : series) {
    for (const double v : y) {
      if (!std::isfinite(v)) return true;
    }
  }
  return false;
}

}  // namespace

std::vector<double> running_line(std::span<const double> values, int half) {
  expects(half >= 0);
  const Prefix p(values);
  const int size = static_cast<int>(values.size());
  std::vector<double> out(values.size(), nan);
  for (int j = 0; j < size; ++j) {
    const auto a = static_cast<std::size_t>(std::max(0, j - half));
    const auto b = static_cast<std::size_t>(std::min(size, j + half + 1));
    const double n = p.n[b] - p.n[a];
    if (n < 1.0) continue;
    const double mean_t = (p.t[b] - p.t[a]) / n, mean_x = (p.x[b] - p.x[a]) / n;
    const double var_t = (p.tt[b] - p.tt[a]) / n - mean_t * mean_t;
    const double cov = (p.tx[b] - p.tx[a]) / n - mean_t * mean_x;
    const double slope = var_t > 1e-6 ? cov / var_t : 0.0;
    out[static_cast<std::size_t>(j)] = p.origin + mean_x + slope * (j - p.center - mean_t);
  }
  return out;
}

std::vector<double> running_mean(std::span<const double> values, int half) {
  expects(half >= 0);
  const Prefix p(values);
  const int size = static_cast<int>(values.size());
  std::vector<double> out(values.size(), nan);
  for (int j = 0; j < size; ++j) {
    const auto a = static_cast<std::size_t>(std::max(0, j - half));
    const auto b = static_cast<std::size_t>(std::min(size, j + half + 1));
    const double n = p.n[b] - p.n[a];
    if (n >= 1.0) out[static_cast<std::size_t>(j)] = p.origin + (p.x[b] - p.x[a]) / n;
  }
  return out;
}

std::vector<double> thinned(std::span<const double> values, int every) {
  expects(every >= 1);
  if (every == 1) return {values.begin(), values.end()};
  const std::size_t m = values.size() / static_cast<std::size_t>(every);
  std::vector<double> out(m, nan);
  for (std::size_t j = 0; j < m; ++j) {
    double sum = 0.0;
    int n = 0;
    for (const double v :
         values.subspan(j * static_cast<std::size_t>(every), static_cast<std::size_t>(every))) {
      if (!std::isfinite(v)) continue;
      sum += v;
      ++n;
    }
    if (2 * n >= every) out[j] = sum / n;
  }
  return out;
}

std::vector<double> Common::without(std::span<const double> own, double own_offset) const {
  expects(own.size() == common.size());
  std::vector<double> rest(common);
  for (std::size_t t = 0; t < rest.size(); ++t) {
    const double v = own[t] - own_offset;
    if (!std::isfinite(v)) continue;
    rest[t] = count[t] > 1 ? (count[t] * common[t] - v) / (count[t] - 1) : nan;
  }
  return rest;
}

Common common_of(std::span<const std::span<const double>> series, int n) {
  Common out;
  out.common.assign(static_cast<std::size_t>(n), nan);
  out.offsets.assign(series.size(), 0.0);
  for (const auto y : series) expects(std::ssize(y) == n);
  renew_common(series, out.offsets, out.common, out.count);
  const int rounds = has_gaps(series) ? common_rounds : 1;
  for (int round = 0; round < rounds; ++round) {
    double sum = 0.0, moved = 0.0;
    int known = 0;
    std::vector<double> next(series.size());
    for (std::size_t i = 0; i < series.size(); ++i) {
      next[i] = offset_against(series[i], out.common);
      if (!std::isfinite(next[i])) continue;
      sum += next[i];
      ++known;
    }
    for (std::size_t i = 0; i < series.size(); ++i) {
      next[i] -= known > 0 ? sum / known : 0.0;
      const double change = std::abs(next[i] - out.offsets[i]);
      if (std::isfinite(change)) moved = std::max(moved, change);
    }
    out.offsets = next;
    renew_common(series, out.offsets, out.common, out.count);
    if (moved < common_converged_k) break;
  }
  return out;
}

}  // namespace pitwright::series
