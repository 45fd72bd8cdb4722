#include "thermometer/line_fit.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/expects.h"
#include "numeric/students_t.h"

namespace pitwright::thermometer {
namespace {

double square(double x) {
  return x * x;
}

double weight(const CheckPoint& p) {
  return 1.0 / (square(p.own_k) + square(p.shared_k));
}

/// What each check adds to the line at a reading: add(t) = sum a_p(t) y_p.
std::vector<double> shares_at(const LineFit& line, double reading_c) {
  double total = 0.0, moment = 0.0;
  for (const auto& p : line.points) {
    total += weight(p);
    moment += weight(p) * square(p.reading_c - line.at_c);
  }
  std::vector<double> shares;
  shares.reserve(line.points.size());
  for (const auto& p : line.points) {
    const double lever =
        line.has_slope ? (reading_c - line.at_c) * (p.reading_c - line.at_c) / moment : 0.0;
    shares.push_back(weight(p) * (1.0 / total + lever));
  }
  return shares;
}

}  // namespace

LineFit fit_line(std::vector<CheckPoint> points, double least_span_k) {
  expects(!points.empty());
  LineFit line;
  line.points = std::move(points);
  double total = 0.0, low = INFINITY, high = -INFINITY;
  for (const auto& p : line.points) {
    expects(std::isfinite(p.reading_c + p.add_k) && weight(p) < INFINITY);
    total += weight(p);
    line.at_c += weight(p) * p.reading_c;
    line.middle_k += weight(p) * p.add_k;
    low = std::min(low, p.reading_c);
    high = std::max(high, p.reading_c);
  }
  line.at_c /= total;
  line.middle_k /= total;
  line.has_slope = high - low >= least_span_k;
  double xy = 0.0, xx = 0.0, misses = 0.0;
  for (const auto& p : line.points) {
    xy += weight(p) * (p.reading_c - line.at_c) * (p.add_k - line.middle_k);
    xx += weight(p) * square(p.reading_c - line.at_c);
  }
  if (line.has_slope) line.slope = xy / xx;
  for (const auto& p : line.points) {
    misses += weight(p) * square(p.add_k - line.add_k(p.reading_c));
  }
  const auto freedom = std::ssize(line.points) - (line.has_slope ? 2 : 1);
  if (freedom > 0) line.stretch = std::max(1.0, std::sqrt(misses / static_cast<double>(freedom)));
  return line;
}

LineUncertainty uncertainty_of(const LineFit& line, double reading_c, double gain_share) {
  const auto shares = shares_at(line, reading_c);
  double own = 0.0, shared = 0.0, slowed = 0.0;
  for (std::size_t i = 0; i < shares.size(); ++i) {
    const auto& p = line.points[i];
    own += square(shares[i] * p.own_k);
    shared += square(shares[i] * p.shared_k);
    if (p.spread_freedom > 0.0) slowed += square(square(shares[i] * p.spread_k)) / p.spread_freedom;
  }
  if (!line.has_slope) own += square(gain_share * (reading_c - line.at_c)) / 3.0;
  // Welch-Satterthwaite; many degrees of freedom are as good as infinitely many.
  constexpr double many = 1e6;
  const double freedom = slowed > 0.0 ? std::min(many, square(own + shared) / slowed) : many;
  const double k = line.stretch * numeric::students_t_upper_quantile(0.025, freedom);
  return {k * std::sqrt(own + shared), k * std::sqrt(own), k * std::sqrt(shared)};
}

}  // namespace pitwright::thermometer
