#include "browning/link.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/expects.h"
#include "browning/anchored.h"
#include "numeric/half_t.h"
#include "numeric/students_t.h"

namespace pitwright::browning {
namespace {

constexpr double steepness_middle_k = 18.0, steepness_log_sd = 0.6;
constexpr double scatter_scale_k = 1.2;
constexpr int steepnesses = 33, scatters = 9;

/// Student's t of many degrees of freedom is the normal to 1e-6.
double normal_upper_quantile(double p) {
  return numeric::students_t_upper_quantile(p, 1e7);
}

/// One point of the grid with what it says.
struct Point {
  std::size_t shape;
  double b, s, weight;
  Anchored at;
};

std::vector<Placed> placed(std::span<const Browned> slices, std::span<const Anchor> anchors,
                           Shape shape, const LinkOptions& options) {
  std::vector<Placed> all;
  for (const auto& anchor : anchors) {
    const auto& slice = slices[static_cast<std::size_t>(anchor.slice)];
    const auto c = coordinate_of(slice.lightness, shape, options);
    all.push_back({c.c, anchor.heat_c, anchor.sd_k * anchor.sd_k, c.per_lightness * slice.sd});
  }
  return all;
}

/// The grid, weights summing to 1. Steps of ln b and ln s are even, so ln s brings its Jacobian s.
std::vector<Point> grid_of(std::span<const Browned> slices, std::span<const Anchor> anchors,
                           const LinkOptions& options) {
  std::vector<Point> grid;
  double top = -1e300;
  for (std::size_t k = 0; k < all_shapes.size(); ++k) {
    const auto at = placed(slices, anchors, all_shapes[k], options);
    for (int i = 0; i < steepnesses; ++i) {
      const double z = -2.6 + 5.2 * i / (steepnesses - 1);
      const double b = steepness_middle_k * std::exp(steepness_log_sd * z);
      for (int j = 0; j < scatters; ++j) {
        const double s = 0.3 * std::pow(10.0 / 0.3, static_cast<double>(j) / (scatters - 1));
        Point point{k, b, s, 0.0, anchored(at, b, s)};
        point.weight = point.at.log_weight - 0.5 * z * z + std::log(s) +
                       numeric::log_half_t4(s, scatter_scale_k);
        top = std::max(top, point.weight);
        grid.push_back(std::move(point));
      }
    }
  }
  double total = 0.0;
  for (auto& point : grid) total += point.weight = std::exp(point.weight - top);
  for (auto& point : grid) point.weight /= total;
  return grid;
}

/// Sums over one shape of the grid.
struct Sums {
  double w = 0, a = 0, b = 0, aa = 0, ab = 0, bb = 0, ss = 0;
};

std::array<Sums, all_shapes.size()> sums_of(const std::vector<Point>& grid) {
  std::array<Sums, all_shapes.size()> all;
  for (const auto& p : grid) {
    auto& sum = all[p.shape];
    sum.w += p.weight;
    sum.a += p.weight * p.at.a;
    sum.b += p.weight * p.b;
    sum.aa += p.weight * (p.at.a_variance + p.at.a * p.at.a);
    sum.ab += p.weight * p.at.a * p.b;
    sum.bb += p.weight * p.b * p.b;
    sum.ss += p.weight * p.s * p.s;
  }
  return all;
}

void check(std::span<const Browned> slices, std::span<const Anchor> anchors,
           const LinkOptions& options) {
  expects(!anchors.empty() && options.white > options.black);
  for (const auto& anchor : anchors) {
    expects(anchor.slice >= 0 && anchor.slice < std::ssize(slices) && anchor.sd_k > 0.0);
  }
}

}  // namespace

Heats fit_link(std::span<const Browned> slices, std::span<const Anchor> anchors,
               const LinkOptions& options) {
  check(slices, anchors, options);
  const auto grid = grid_of(slices, anchors, options);
  const auto sums = sums_of(grid);
  const std::size_t n = slices.size();
  Heats heats;
  heats.mean_c.assign(n, 0.0);
  heats.covariance.assign(n * n, 0.0);
  heats.apart.assign(anchors.size(), 0.0);
  for (const auto& p : grid) {
    heats.scatter_k += p.weight * p.s;
    heats.steepness_k += p.weight * p.b;
    for (std::size_t j = 0; j < anchors.size(); ++j) heats.apart[j] += p.weight * p.at.apart[j];
  }
  for (std::size_t k = 0; k < all_shapes.size(); ++k) {
    std::vector<Coordinate> c;
    for (const auto& slice : slices)
      c.push_back(coordinate_of(slice.lightness, all_shapes[k], options));
    const auto& m = sums[k];
    for (std::size_t i = 0; i < n; ++i) {
      heats.mean_c[i] += m.a + m.b * c[i].c;
      for (std::size_t j = 0; j < n; ++j)
        heats.covariance[i * n + j] += m.aa + m.ab * (c[i].c + c[j].c) + m.bb * c[i].c * c[j].c;
      const double photo = c[i].per_lightness * slices[i].sd;
      heats.covariance[i * n + i] += m.ss + m.bb * photo * photo;
    }
  }
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j < n; ++j)
      heats.covariance[i * n + j] -= heats.mean_c[i] * heats.mean_c[j];
  for (std::size_t i = 0; i < n; ++i)
    heats.sd_k.push_back(std::sqrt(std::max(heats.covariance[i * n + i], 0.0)));
  return heats;
}

std::vector<Apart> apart_from_air(std::span<const Browned> slices, std::span<const Anchor> anchors,
                                  const LinkOptions& options) {
  std::vector<Apart> all;
  if (anchors.size() < 3) return all;
  constexpr double error = 0.05;
  const auto n = static_cast<double>(anchors.size());
  // The scatter is integrated over, so that its doubt is in the sd already.
  const double reach = normal_upper_quantile(0.5 * error / n);
  for (std::size_t j = 0; j < anchors.size(); ++j) {
    std::vector<Anchor> others(anchors.begin(), anchors.end());
    others.erase(others.begin() + static_cast<std::ptrdiff_t>(j));
    const auto heats = fit_link(slices, others, options);
    const auto i = static_cast<std::size_t>(anchors[j].slice);
    const double d = heats.mean_c[i] - anchors[j].heat_c;
    const double sd = std::hypot(heats.sd_k[i], anchors[j].sd_k);
    all.push_back({d, d - reach * sd, d + reach * sd, std::abs(d) > reach * sd});
  }
  return all;
}

}  // namespace pitwright::browning
