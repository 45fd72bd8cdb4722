#pragma once

#include <cmath>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "call/panel.h"
#include "call/windows.h"
#include "numeric/random.h"
#include "pit/burn.h"

namespace pitwright::call {

/// A burn for tests: panel and windows by a plain recipe, with the truth in its fields. It is
/// neither the estimator's model (its noise is a first-order process of a minute's length and its
/// drift a slow wave) nor a physical pit.
struct PracticeBurn {
  std::vector<int> order = {0, 1, 1, 0};  ///< settings, one a stint
  double dwell_s = 2100.0;
  double settle_s = 900.0;  ///< left out at the start of a stint
  double lag_s = 300.0;
  double step_s = 10.0;
  std::vector<double> level_k = {120.0, 120.0};  ///< per setting [degC]
  std::vector<std::vector<double>> runs_k = {{4.0, 1.0, -1.0, -4.0},
                                             {4.0, 1.0, -1.0, -4.0}};  ///< per setting and spot
  double swing_k = 8.0;                                                ///< peak to trough
  double period_s = 270.0;
  double drift_k = 1.0;       ///< height of the slow wave
  double resetting_k = 0.5;   ///< sd per stretch: level; spots a third of it
  double gust_k = 0.6;        ///< sd of the minute-long noise, common to all spots
  double spot_noise_k = 0.3;  ///< the same, of each spot alone
  bool dial = true;

  Burn burn() const;
  Windows windows() const;
  Panel panel(std::uint64_t seed) const;
};

inline Burn PracticeBurn::burn() const {
  Burn result;
  for (std::size_t k = 0; k < order.size(); ++k)
    result.stints.push_back({std::string(1, static_cast<char>('A' + order[k])),
                             {},
                             static_cast<double>(k) * dwell_s,
                             static_cast<double>(k + 1) * dwell_s});
  return result;
}

inline Windows PracticeBurn::windows() const {
  Windows w;
  for (std::size_t k = 0; k < level_k.size(); ++k)
    w.settings.emplace_back(1, static_cast<char>('A' + k));
  int previous = -1;
  for (int k = 0; k < std::ssize(order); ++k) {
    const int setting = order[static_cast<std::size_t>(k)];
    const double from = k * dwell_s, to = from + dwell_s;
    StintCall stint{k, setting, from, to, {}, {}, 0.0, StintState::closed, ""};
    stint.counted_from_s = setting == previous ? from : from + settle_s;
    stint.counted_to_s = to;
    previous = setting;
    w.stints.push_back(stint);
  }
  w.excluded.assign(static_cast<std::size_t>(std::ssize(order) * std::lround(dwell_s / step_s)), 0);
  w.soaked_at_s = 0.0;
  if (swing_k > 0.0) w.swing = {period_s, swing_k};
  w.lag_s = lag_s;
  w.lag_low_s = 0.7 * lag_s;
  w.lag_high_s = lag_s / 0.7;
  return w;
}

inline Panel PracticeBurn::panel(std::uint64_t seed) const {
  numeric::Random random(seed);
  const auto spots = runs_k.front().size();
  Panel p;
  p.step_s = step_s;
  p.n = static_cast<int>(std::ssize(order) * std::lround(dwell_s / step_s));
  p.spots.resize(spots);
  for (std::size_t i = 0; i < spots; ++i) {
    p.spots[i].spot = "spot " + std::to_string(i + 1);
    p.spots[i].channel = "T" + std::to_string(i + 1);
    p.spots[i].x_m = 0.2 * static_cast<double>(i);
    p.spots[i].uncertainty_k = 4.0 / 1.8;
    p.spots[i].celsius.reserve(static_cast<std::size_t>(p.n));
  }
  const double phase = random.uniform(0.0, 2.0 * std::numbers::pi);
  const double wave = random.uniform(0.0, 2.0 * std::numbers::pi);
  const double keep = std::exp(-step_s / 60.0), push = std::sqrt(1.0 - keep * keep);
  double gust = gust_k * random.normal();
  std::vector<double> own(spots, 0.0), reset(spots, 0.0), held = runs_k[0];
  double level = level_k[static_cast<std::size_t>(order[0])], level_reset = 0.0;
  int previous = -1;
  for (int j = 0; j < p.n; ++j) {
    const double t = (j + 0.5) * step_s;
    const auto setting = static_cast<std::size_t>(order[static_cast<std::size_t>(t / dwell_s)]);
    const bool changed = static_cast<int>(setting) != previous;
    previous = static_cast<int>(setting);
    if (changed) level_reset = resetting_k * random.normal();
    const double approach = -std::expm1(-step_s / lag_s);
    level += approach * (level_k[setting] + level_reset - level);
    gust = keep * gust + push * gust_k * random.normal();
    const double common = level + gust +
                          0.5 * swing_k * std::sin(phase + 2.0 * std::numbers::pi * t / period_s) +
                          drift_k * std::sin(wave + t / 5400.0);
    double mean = 0.0;
    for (std::size_t i = 0; i < spots; ++i) {
      if (changed) reset[i] = resetting_k / 3.0 * random.normal();
      held[i] += approach * (runs_k[setting][i] + reset[i] - held[i]);
      own[i] = keep * own[i] + push * spot_noise_k * random.normal();
      p.spots[i].celsius.push_back(common + held[i] + own[i]);
      mean += p.spots[i].celsius.back() / static_cast<double>(spots);
    }
    if (dial) p.dial.push_back(mean - 3.0 + 0.3 * random.normal());
  }
  return p;
}

}  // namespace pitwright::call
