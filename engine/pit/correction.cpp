#include "pit/correction.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace pitwright {
namespace {

/// The two points a reading is told from, and where between them it lies.
struct Between {
  const CorrectionPoint& first;
  const CorrectionPoint& second;
  double w;
};

Between around(const std::vector<CorrectionPoint>& points, double reading_c) {
  const auto after = std::ranges::upper_bound(points, reading_c, {}, &CorrectionPoint::at_c);
  const auto i = std::clamp<std::ptrdiff_t>(after - points.begin(), 1, std::ssize(points) - 1);
  const auto& first = points[static_cast<std::size_t>(i - 1)];
  const auto& second = points[static_cast<std::size_t>(i)];
  return {first, second, (reading_c - first.at_c) / (second.at_c - first.at_c)};
}

}  // namespace

double correction_k(const Correction& correction, double reading_c) {
  const auto& points = correction.points;
  if (points.empty()) return 0.0;
  if (points.size() == 1) return points.front().add_k;
  const auto [first, second, w] = around(points, reading_c);
  return first.add_k + w * (second.add_k - first.add_k);
}

std::optional<double> uncertainty_k(const Correction& correction, double reading_c) {
  const auto& points = correction.points;
  if (points.empty()) return std::nullopt;
  if (points.size() == 1) return points.front().uncertainty_k;
  const auto [first, second, w] = around(points, reading_c);
  if (!first.uncertainty_k || !second.uncertainty_k) return std::nullopt;
  const double u1 = *first.uncertainty_k, u2 = *second.uncertainty_k;
  if (w >= 0.0 && w <= 1.0) return (1.0 - w) * u1 + w * u2;
  return std::hypot((1.0 - w) * u1, w * u2);
}

}  // namespace pitwright
