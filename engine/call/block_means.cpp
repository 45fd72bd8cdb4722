#include "call/block_means.h"

#include <array>
#include <cmath>
#include <limits>

#include "base/expects.h"

namespace pitwright::call {
namespace {

constexpr double enough = 0.6;       // of a block's good moments
constexpr double distinct_m = 0.01;  // coordinates closer than this are the same
constexpr double missing = std::numeric_limits<double>::quiet_NaN();

std::optional<double> coordinate(const PanelSpot& spot, Axis axis) {
  switch (axis) {
    case Axis::left_right:
      return spot.x_m;
    case Axis::front_back:
      return spot.y_m;
    case Axis::top_bottom:
      return spot.z_m;
  }
  return std::nullopt;
}

std::optional<TiltContrast> tilt_along(Axis axis, const Panel& panel, const Moments& moments) {
  TiltContrast tilt{axis, 0.0, {}, {}};
  std::vector<double> at;
  for (const int i : moments.level_spots)
    if (const auto x = coordinate(panel.spots[static_cast<std::size_t>(i)], axis)) {
      tilt.spots.push_back(i);
      at.push_back(*x);
    }
  if (at.size() < 2) return std::nullopt;
  double sum = 0.0, low = at.front(), high = at.front();
  for (const double x : at) {
    sum += x;
    low = std::min(low, x);
    high = std::max(high, x);
  }
  tilt.extent_m = high - low;
  if (tilt.extent_m < distinct_m) return std::nullopt;
  const double center = sum / static_cast<double>(at.size());
  double squares = 0.0;
  for (const double x : at) squares += (x - center) * (x - center);
  for (const double x : at) tilt.shares.push_back((x - center) / squares * tilt.extent_m);
  return tilt;
}

/// Mean of values minus base over the block's good moments where both are finite; NaN where fewer
/// than 60 % of them are.
double mean_difference(const std::vector<double>& values, const std::vector<double>& base,
                       const Moments& moments, const Block& block) {
  double sum = 0.0;
  int good = 0, both = 0;
  for (auto j = static_cast<std::size_t>(block.first); j < static_cast<std::size_t>(block.last);
       ++j) {
    if (moments.good[j] == 0) continue;
    ++good;
    const double d = values[j] - base[j];
    if (!std::isfinite(d)) continue;
    sum += d;
    ++both;
  }
  return both > 0 && both >= enough * good ? sum / both : missing;
}

std::vector<double> level_at_moments(const Panel& panel, const Moments& moments) {
  std::vector<double> level(static_cast<std::size_t>(panel.n), 0.0);
  for (const int i : moments.level_spots) {
    const auto& celsius = panel.spots[static_cast<std::size_t>(i)].celsius;
    for (std::size_t j = 0; j < level.size(); ++j) level[j] += celsius[j];
  }
  for (auto& value : level) value /= static_cast<double>(moments.level_spots.size());
  return level;
}

}  // namespace

std::vector<TiltContrast> tilt_contrasts(const Panel& panel, const Moments& moments) {
  std::vector<TiltContrast> tilts;
  for (const Axis axis : std::array{Axis::left_right, Axis::front_back, Axis::top_bottom})
    if (auto tilt = tilt_along(axis, panel, moments)) tilts.push_back(std::move(*tilt));
  return tilts;
}

BlockMeans block_means(const Panel& panel, const Moments& moments, const std::vector<Block>& blocks,
                       const std::vector<TiltContrast>& tilts) {
  expects(!moments.level_spots.empty());
  const auto m = std::ssize(blocks), n = std::ssize(panel.spots);
  const auto level = level_at_moments(panel, moments);
  const std::vector<double> nothing(level.size(), 0.0);
  BlockMeans means{Eigen::VectorXd(m), Eigen::MatrixXd(m, n), Eigen::MatrixXd(m, n),
                   Eigen::MatrixXd::Zero(m, std::ssize(tilts)), std::nullopt};
  if (!panel.dial.empty()) means.dial_gap = Eigen::VectorXd(m);
  for (int b = 0; b < m; ++b) {
    const auto& block = blocks[static_cast<std::size_t>(b)];
    means.level(b) = mean_difference(level, nothing, moments, block);
    for (int i = 0; i < n; ++i)
      means.runs(b, i) =
          mean_difference(panel.spots[static_cast<std::size_t>(i)].celsius, level, moments, block);
    if (means.dial_gap) (*means.dial_gap)(b) = mean_difference(panel.dial, level, moments, block);
  }
  means.readings = means.runs.colwise() + means.level;
  for (int k = 0; k < std::ssize(tilts); ++k) {
    const auto& tilt = tilts[static_cast<std::size_t>(k)];
    for (std::size_t i = 0; i < tilt.spots.size(); ++i)
      means.tilts.col(k) += tilt.shares[i] * means.runs.col(tilt.spots[i]);
  }
  return means;
}

}  // namespace pitwright::call
