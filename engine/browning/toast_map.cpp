#include "browning/toast_map.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace pitwright::browning {
namespace {

constexpr double raw_below_untoasted = 4.0;
constexpr double near_share = 0.75;
constexpr double two_sided_95 = 1.959964;

/// Nearest slice that counts, as an index into `used`.
std::optional<int> seat_of(const ToastProbe& probe, const std::vector<ToastSlice>& slices,
                           const std::vector<int>& used) {
  std::optional<int> best;
  double least = 0.0;
  for (int k = 0; k < std::ssize(used); ++k) {
    const auto& slice = slices[static_cast<std::size_t>(used[static_cast<std::size_t>(k)])];
    const double away = std::hypot(slice.x_m - probe.x_m, slice.y_m - probe.y_m);
    if (away > near_share * slice.side_m || (best && away >= least)) continue;
    best = k;
    least = away;
  }
  return best;
}

/// A weighted sum of the heats with its 95 % range.
Ranged contrast(const std::vector<double>& weight, const Heats& heats) {
  const std::size_t n = weight.size();
  double value = 0.0, variance = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    value += weight[i] * heats.mean_c[i];
    for (std::size_t j = 0; j < n; ++j)
      variance += weight[i] * weight[j] * heats.covariance[i * n + j];
  }
  const double reach = two_sided_95 * std::sqrt(std::max(variance, 0.0));
  return {value, value - reach, value + reach};
}

/// Weights of the least-squares slope on a coordinate times its extent; empty where all lie in one
/// line.
std::optional<std::vector<double>> tilt_weights(const std::vector<double>& at, double side_m) {
  const auto n = static_cast<double>(at.size());
  double mean = 0.0, squares = 0.0;
  for (const double x : at) mean += x / n;
  for (const double x : at) squares += (x - mean) * (x - mean);
  const auto [low, high] = std::ranges::minmax(at);
  if (high - low < 0.5 * side_m) return std::nullopt;
  std::vector<double> weights;
  for (const double x : at) weights.push_back((x - mean) / squares * (high - low));
  return weights;
}

void sum_up(ToastMap& map, const std::vector<ToastSlice>& slices, const Heats& heats) {
  const std::size_t n = map.used.size();
  const std::vector<double> even(n, 1.0 / static_cast<double>(n));
  map.level_c = contrast(even, heats);
  std::vector<double> x, y;
  for (const int i : map.used) {
    x.push_back(slices[static_cast<std::size_t>(i)].x_m);
    y.push_back(slices[static_cast<std::size_t>(i)].y_m);
  }
  const double side = slices[static_cast<std::size_t>(map.used.front())].side_m;
  if (const auto weights = tilt_weights(x, side)) map.left_right_k = contrast(*weights, heats);
  if (const auto weights = tilt_weights(y, side)) map.front_back_k = contrast(*weights, heats);
  for (std::size_t k = 0; k < n; ++k) {
    auto weights = even;
    for (auto& w : weights) w = -w;
    weights[k] += 1.0;
    const auto run = contrast(weights, heats);
    map.heats[static_cast<std::size_t>(map.used[k])] =
        SliceHeat{heats.mean_c[k], heats.sd_k[k], run.value, (run.high - run.value) / two_sided_95};
  }
}

}  // namespace

ToastMap map_toast(const std::vector<ToastSlice>& slices, const std::vector<ToastProbe>& probes,
                   const ToastOptions& options) {
  ToastMap map;
  auto limits = options.limits;
  LinkOptions link;
  if (options.untoasted) {
    limits.raw = *options.untoasted - raw_below_untoasted;
    link.white = *options.untoasted + 1.0;  // breads differ: none of them is whiter for certain
  }
  std::vector<Lab> colors;
  for (const auto& slice : slices) {
    colors.push_back(slice.color);
    map.flaws.push_back(slice.flaw);
  }
  judge_colors(colors, limits, map.flaws);
  map.heats.resize(slices.size());
  std::vector<Browned> browned;
  for (std::size_t i = 0; i < slices.size(); ++i) {
    if (map.flaws[i] != Flaw::none) continue;
    map.used.push_back(static_cast<int>(i));
    browned.push_back({slices[i].color.lightness, std::max(slices[i].lightness_sd, 1e-3)});
  }
  std::vector<Anchor> anchors;
  std::vector<std::size_t> whose;
  for (std::size_t j = 0; j < probes.size(); ++j) {
    const auto seat = seat_of(probes[j], slices, map.used);
    map.probes.emplace_back();
    if (!seat) continue;
    map.probes[j].slice = map.used[static_cast<std::size_t>(*seat)];
    anchors.push_back({*seat, probes[j].heat_c, std::max(probes[j].sd_k, 0.05)});
    whose.push_back(j);
  }
  map.anchors = static_cast<int>(anchors.size());
  if (anchors.empty()) return map;
  const auto heats = fit_link(browned, anchors, link);
  const auto apart = apart_from_air(browned, anchors, link);
  for (std::size_t k = 0; k < apart.size(); ++k) map.probes[whose[k]].apart = apart[k];
  map.covariance_k2 = heats.covariance;
  map.scatter_k = heats.scatter_k;
  map.steepness_k = heats.steepness_k;
  sum_up(map, slices, heats);
  return map;
}

}  // namespace pitwright::browning
