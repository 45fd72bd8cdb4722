#include <algorithm>
#include <array>
#include <cmath>

#include <Eigen/Dense>

#include "rehearse/physics.h"

namespace pitwright::rehearse {
namespace {

using Unknowns = Eigen::Matrix<double, 5, 1>;  // plate, air, wall, deep [degC], heat [W]

/// The state that belongs to five unknowns: every place and the sensor where they tend to.
void fill(const Physics& physics, const Inputs& in, const Unknowns& u, std::vector<double>& y) {
  y[plate] = u[0];
  y[air] = u[1];
  y[wall] = u[2];
  y[deep] = u[3];
  y[bed] = y[flame] = u[4];
  y[load] = u[1];
  const int n = physics.places();
  for (int i = 0; i < n; ++i) {
    const double t = physics.place_target_c(in, y, i);
    y[static_cast<std::size_t>(first_place + i)] = t;
    y[static_cast<std::size_t>(first_place + n + i)] = t;
  }
  y[sensor] = physics.sensor_target_c(in, y);
}

struct Aim {
  bool held;
  double heat_w;           // open: what the fire gives with the sensor at the set point
  double look_gain_per_k;  // and how that answers to the sensor
};

/// What is left of each balance, in watts and kelvins.
Unknowns remains(const Physics& physics, const Inputs& in, const Aim& aim, const Unknowns& u,
                 std::vector<double>& y) {
  fill(physics, in, u, y);
  const Flows f = physics.flows(in, y);
  const double error_k = physics.model().set_c - y[sensor];
  Unknowns r;
  r[0] = f.into_plate - f.plate_to_air - f.plate_to_wall;
  r[1] = f.into_air + f.plate_to_air - f.air_to_wall - f.air_to_outside - f.air_to_load;
  r[2] = f.air_to_wall + f.plate_to_wall - f.wall_to_deep - f.wall_to_outside;
  r[3] = f.wall_to_deep - f.deep_to_outside;
  r[4] = aim.held ? error_k : u[4] - aim.heat_w * (1 + aim.look_gain_per_k * error_k);
  return r;
}

Balance solve(const Physics& physics, const Inputs& in, const Aim& aim) {
  const double set_c = physics.model().set_c;
  Balance result;
  result.state.assign(static_cast<std::size_t>(physics.size()), 0.0);
  Unknowns u;
  u << set_c + 60, set_c, set_c - 15, set_c - 30, 1500;
  for (int iteration = 0; iteration < 60; ++iteration) {
    const Unknowns r = remains(physics, in, aim, u, result.state);
    if (r.cwiseAbs().maxCoeff() < 1e-8) {
      result.converged = true;
      break;
    }
    Eigen::Matrix<double, 5, 5> J;
    for (int j = 0; j < 5; ++j) {
      const double step = 1e-4 * std::max(1.0, std::abs(u[j]));
      Unknowns moved = u;
      moved[j] += step;
      J.col(j) = (remains(physics, in, aim, moved, result.state) - r) / step;
    }
    Unknowns move = J.fullPivLu().solve(r);
    const double hottest = move.head<4>().cwiseAbs().maxCoeff();
    if (hottest > 80) move *= 80 / hottest;
    u -= move;
  }
  fill(physics, in, u, result.state);
  result.heat_w = u[4];
  return result;
}

}  // namespace

Balance balance(const Physics& physics, const Inputs& in) {
  const auto& fire = physics.model().fire;
  const double look = fire.kind == FireKind::splits ? fire.look_gain_per_k : 0.0;
  if (!is_held(fire)) return solve(physics, in, {false, fire.high_w, look});
  const Balance held = solve(physics, in, {true, 0.0, 0.0});
  if (held.converged && held.heat_w >= fire.low_w && held.heat_w <= fire.high_w) return held;
  const double bound = held.converged && held.heat_w < fire.low_w ? fire.low_w : fire.high_w;
  return solve(physics, in, {false, bound, 0.0});
}

}  // namespace pitwright::rehearse
