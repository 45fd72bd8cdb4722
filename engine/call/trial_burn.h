#pragma once

#include <cmath>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "numeric/random.h"
#include "pit/burn.h"

namespace pitwright::call {

/// A burn for tests by the plain recipe of a practice scenario: what the air does, seen through a
/// thermometer. Not the model that the windows are found with: swing is a saw-tooth or splits,
/// gusts are a first-order process, a re-setting error sits on every stint.
struct TrialBurn {
  std::vector<std::string> order = {"A", "B", "B", "A"};
  double dwell_s = 2100.0;
  double lead_s = 0.0;  ///< recorded before the first stint
  double level_c = 125.0;
  std::vector<double> runs_k = {4, 3, 1, 0, -3, -5};
  double level_change_k = 0.0;       ///< B less A
  double left_right_change_k = 0.0;  ///< first half of the spots up, second half down
  double lag_s = 420.0;
  double swing_k = 5.0, period_s = 300.0;  ///< peak to trough; period 0: splits at random
  double gust_k = 0.5, drift_k_h = 0.0;
  double noise_k = 0.2, rounding_k = 1.0 / 18.0;
  double short_k = 0.0, soak_s = 2700.0;  ///< level short at the start, closing with soak_s
  double resetting_k = 0.3;
  double step_s = 10.0;

  Burn burn(std::uint64_t seed) const;
};

namespace trial {

/// Saw-tooth of height 1 with a twentieth of jitter, or random splits where the period is 0.
inline std::vector<double> swing(const TrialBurn& plan, int n, numeric::Random& random) {
  std::vector<double> out;
  double began = 0.0, length = plan.period_s, heat = 0.0, next = 0.0;
  for (int i = 0; i < n; ++i) {
    const double t = i * plan.step_s;
    if (plan.period_s > 0.0) {
      while (t - began >= length) {
        began += length;
        length = plan.period_s * (1.0 + 0.05 * random.normal());
      }
      const double x = (t - began) / length;
      out.push_back(x < 0.5 ? 2.0 * x - 0.5 : 1.5 - 2.0 * x);
      continue;
    }
    if (t >= next) {
      heat += 1.0;
      next = t + random.uniform(600.0, 2100.0);
    }
    heat *= std::exp(-plan.step_s / 700.0);
    out.push_back(heat - 0.5);
  }
  return out;
}

}  // namespace trial

inline Burn TrialBurn::burn(std::uint64_t seed) const {
  numeric::Random random(seed, 41);
  Burn out;
  for (std::size_t k = 0; k < order.size(); ++k) {
    const double from = lead_s + static_cast<double>(k) * dwell_s;
    out.stints.push_back({order[k], {}, from, from + dwell_s});
  }
  const int n = static_cast<int>((lead_s + static_cast<double>(order.size()) * dwell_s) / step_s);
  const auto cycle = trial::swing(*this, n, random);
  for (std::size_t i = 0; i < runs_k.size(); ++i) {
    Probe probe;
    probe.channel = probe.spot = "P" + std::to_string(i + 1);
    probe.uncertainty = TemperatureDelta::from_kelvins(1.0);
    out.probes.push_back(probe);
  }
  double gust = 0.0, level_shift = 0.0, lay_shift = 0.0, reset = 0.0;
  const double keep = std::exp(-step_s / 120.0), answer = -std::expm1(-step_s / lag_s);
  std::size_t stint = order.size();
  for (int j = 0; j < n; ++j) {
    const double t = j * step_s;
    const auto now = t < lead_s ? 0 : static_cast<std::size_t>((t - lead_s) / dwell_s);
    if (now != stint) reset = resetting_k * random.normal();
    const bool is_first = stint == order.size();
    stint = now;
    const double share = order[now] == "B" ? 1.0 : 0.0;
    const double part = is_first ? 1.0 : answer;
    level_shift += part * (share * level_change_k + reset - level_shift);
    lay_shift += part * (share * left_right_change_k - lay_shift);
    gust = keep * gust + gust_k * std::sqrt(1.0 - keep * keep) * random.normal();
    const double level = level_c + level_shift + gust + drift_k_h * t / 3600.0 -
                         short_k * std::exp(-t / soak_s) +
                         swing_k * cycle[static_cast<std::size_t>(j)];
    for (std::size_t i = 0; i < runs_k.size(); ++i) {
      const double side = i < runs_k.size() / 2 ? 0.5 : -0.5;
      const double air = level + runs_k[i] + side * lay_shift + noise_k * random.normal();
      out.probes[i].readings.seconds.push_back(t);
      out.probes[i].readings.values.push_back(
          rounding_k > 0.0 ? std::round(air / rounding_k) * rounding_k : air);
    }
  }
  return out;
}

}  // namespace pitwright::call
