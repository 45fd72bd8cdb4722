#include "rehearse/soak.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <Eigen/Dense>
#include <unsupported/Eigen/MatrixFunctions>

#include "rehearse/record.h"

namespace pitwright::rehearse {
namespace {

constexpr int held_rounds = 4;
constexpr int longest_round = 5;   // quarter hours
constexpr int open_rounds = 16;    // at most; half a dozen to ten are usual
constexpr double still_k = 0.004;  // a correction below this ends them
constexpr double least_round_s = 900;

using Core = Eigen::Vector4d;  // plate, air, wall, deep [degC]

Core core_of(const std::vector<double>& y) {
  return {y[plate], y[air], y[wall], y[deep]};
}

void set_core(const Core& core, std::vector<double>& y) {
  y[plate] = core[0];
  y[air] = core[1];
  y[wall] = core[2];
  y[deep] = core[3];
}

/// A deep part far from its end would take hours: put it where the wall's mean would bring it.
void hasten_deep(const PitModel& model, Burning& pit, double wall_mean_c) {
  const auto& b = model.body;
  const double out_w_k = b.deep_out_w_k * (1 + b.wind_loss_s_m * model.weather.wind_m_s);
  pit.state()[deep] = (b.wall_deep_w_k * wall_mean_c + out_w_k * model.weather.outside_c) /
                      (b.wall_deep_w_k + out_w_k);
}

double soak_held(const PitModel& model, Burning& pit) {
  double t_s = 0;
  for (int round = 0; round < held_rounds; ++round) {
    Record record(model);
    Cycle cycle;
    // A round holds two whole swings, or there is no swing.
    for (int part = 0; part < longest_round; ++part) {
      t_s = run_ticks(pit, t_s, least_round_s, record);
      cycle = cycle_of(record, Record::level);
      if (cycle.crossings.empty() || cycle.crossings.size() > 2) break;
    }
    // The last whole swing: what the round began with has faded by then.
    const auto swings = cycle.crossings.size();
    const auto from = swings > 1 ? cycle.crossings[swings - 2] : record.size() / 2;
    const auto to = swings > 1 ? cycle.crossings[swings - 1] : record.size();
    if (round + 1 < held_rounds) hasten_deep(model, pit, record.mean(from, to, Record::wall_c));
  }
  return t_s;
}

/// Rates of the core with places and sensor where they tend to, the fire answering the dial.
Core core_rates(const Burning& pit, const Core& core, double heat_w) {
  const auto& physics = pit.physics();
  const auto& fire = physics.model().fire;
  const auto& b = physics.model().body;
  auto y = pit.state();
  set_core(core, y);
  const auto place = static_cast<std::size_t>(first_place + physics.places() - 1);
  y[place] = physics.place_target_c(pit.inputs(), y, physics.places() - 1);
  const double dial_c = physics.sensor_target_c(pit.inputs(), y);
  const double look = fire.kind == FireKind::splits ? fire.look_gain_per_k : 0.0;
  y[flame] = heat_w + fire.high_w * look * (physics.model().set_c - dial_c);
  const Flows f = physics.flows(pit.inputs(), y);
  return {(f.into_plate - f.plate_to_air - f.plate_to_wall) / b.plate_j_k,
          (f.into_air + f.plate_to_air - f.air_to_wall - f.air_to_outside) / b.air_j_k,
          (f.air_to_wall + f.plate_to_wall - f.wall_to_deep - f.wall_to_outside) / b.wall_j_k,
          (f.wall_to_deep - f.deep_to_outside) / b.deep_j_k};
}

Eigen::Matrix4d core_jacobian(const Burning& pit, const Core& core, double heat_w) {
  Eigen::Matrix4d J;
  constexpr double step_k = 1e-3;
  for (int j = 0; j < 4; ++j) {
    Core up = core, down = core;
    up[j] += step_k;
    down[j] -= step_k;
    J.col(j) = (core_rates(pit, up, heat_w) - core_rates(pit, down, heat_w)) / (2 * step_k);
  }
  return J;
}

/// Moves the core, and what follows it: places, their metal, the sensor.
void shift_core(Burning& pit, const Core& by) {
  auto& y = pit.state();
  const auto& physics = pit.physics();
  const int n = physics.places();
  std::vector<double> before(static_cast<std::size_t>(n));
  for (int i = 0; i < n; ++i)
    before[static_cast<std::size_t>(i)] = physics.place_target_c(pit.inputs(), y, i);
  const double dial_before_c = physics.sensor_target_c(pit.inputs(), y);
  set_core(core_of(y) + by, y);
  for (int i = 0; i < n; ++i) {
    const double moved =
        physics.place_target_c(pit.inputs(), y, i) - before[static_cast<std::size_t>(i)];
    y[static_cast<std::size_t>(first_place + i)] += moved;
    y[static_cast<std::size_t>(first_place + n + i)] += moved;
  }
  y[sensor] += physics.sensor_target_c(pit.inputs(), y) - dial_before_c;
}

double soak_open(const PitModel& model, Burning& pit) {
  double t_s = 0;
  const double span_s = round_s(model.fire);
  for (int round = 0; round < open_rounds; ++round) {
    const Core before = core_of(pit.state());
    Record record(model);
    t_s = run_ticks(pit, t_s, span_s, record);
    if (round == 0) continue;  // the swing comes up
    const Core change = core_of(pit.state()) - before;
    const auto J = core_jacobian(pit, core_of(pit.state()), model.fire.high_w);
    const Eigen::Matrix4d kept = (J * span_s).exp();
    const Core by = (Eigen::Matrix4d::Identity() - kept).fullPivLu().solve(kept * change);
    shift_core(pit, by);
    if (by.cwiseAbs().maxCoeff() < still_k) break;
  }
  return t_s;
}

}  // namespace

double round_s(const Fire& fire) {
  if (fire.kind != FireKind::splits) return least_round_s;
  const double period_s = split_period_s(fire);
  return std::ceil(least_round_s / period_s) * period_s;
}

double soak(const PitModel& model, Burning& pit) {
  return is_held(model.fire) ? soak_held(model, pit) : soak_open(model, pit);
}

}  // namespace pitwright::rehearse
