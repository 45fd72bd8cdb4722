#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "call/together.h"
#include "pit/pit.h"

namespace pitwright::lay {

/// A made-up pit of 1.0 x 0.5 x 0.5 m with two grates.
inline Pit practice_pit() {
  Pit pit;
  pit.width_m = 1.0;
  pit.depth_m = 0.5;
  pit.height_m = 0.5;
  pit.grates = {{"lower", 0.15}, {"upper", 0.35}};
  return pit;
}

/// The field that its spots follow: hot on the left, at B less so; a bump on the lower grate.
inline double practice_field(double x, double y, double z, int setting) {
  const double tilt = (setting == 0 ? -10.0 : -4.0) * (x - 0.5);
  const double dx = (x - 0.3) / 0.25, dy = (y - 0.3) / 0.25;
  return tilt + 3.0 * (z - 0.25) + 2.0 * std::exp(-0.5 * (dx * dx + dy * dy));
}

/// Ten spots at settings A and B, as a call would give them; small errors of fixed signs.
inline call::Together practice_runs() {
  call::Together runs;
  runs.settings = {"A", "B"};
  runs.level_c = {120.0, 124.0};
  runs.level_covariance_k2 = {1.0, 0.4, 0.4, 1.2};
  runs.level_probe_sd_k = 0.3;
  const std::vector<std::vector<double>> places{
      {0.10, 0.10, 0.15}, {0.90, 0.12, 0.15}, {0.50, 0.25, 0.15}, {0.12, 0.40, 0.15},
      {0.88, 0.42, 0.15}, {0.30, 0.28, 0.15}, {0.20, 0.15, 0.35}, {0.80, 0.35, 0.35},
      {0.45, 0.10, 0.35}, {0.60, 0.42, 0.35}};
  const std::vector<double> errors{0.4, -0.5, 0.1, -0.3, 0.6, -0.2, 0.3, -0.6, 0.2, 0.0};
  std::vector<double> mean(2, 0.0);
  for (std::size_t i = 0; i < places.size(); ++i) {
    const auto& at = places[i];
    call::SpotTogether spot;
    spot.spot = spot.channel = "P" + std::to_string(i + 1);
    spot.grate = at[2] < 0.25 ? "lower" : "upper";
    spot.x_m = at[0];
    spot.y_m = at[1];
    spot.z_m = at[2];
    spot.in_level = true;
    spot.probe_sd_k = 0.8;
    spot.covariance_k2 = {0.09, 0.02, 0.02, 0.12};
    for (int s = 0; s < 2; ++s) {
      spot.run_k.push_back(practice_field(at[0], at[1], at[2], s) + errors[i]);
      mean[static_cast<std::size_t>(s)] += spot.run_k.back() / static_cast<double>(places.size());
      spot.counted.push_back({120, 120.0, 1.0, 117.0, 123.0});
    }
    runs.spots.push_back(spot);
  }
  for (auto& spot : runs.spots)
    for (std::size_t s = 0; s < 2; ++s) spot.run_k[s] -= mean[s];
  return runs;
}

}  // namespace pitwright::lay
