#include "rehearse/burning.h"

#include <algorithm>
#include <cmath>

namespace pitwright::rehearse {
namespace {

// A step no longer than this share of the fastest time constant keeps the error of a step below
// 1e-3 of what moves.
constexpr double step_share = 0.6;

// How strongly the level of an open fire answers to its heat: most of the rise above the outside.
constexpr double rise_share = 0.75;

}  // namespace

Burning::Burning(const PitModel& model, numeric::Random* human)
    : model_(model),
      physics_(model),
      integrator_(physics_.size()),
      human_(human),
      y_(static_cast<std::size_t>(physics_.size()), 0.0),
      steps_(static_cast<int>(std::ceil(tick_s / (step_share * physics_.fastest_s())))) {
  in_.lean_k.assign(static_cast<std::size_t>(physics_.places()), 0.0);
  in_.eddy_k.assign(static_cast<std::size_t>(physics_.places()), 0.0);
}

void Burning::use(const Setting& setting, const Shift& resetting, const Shift& drift) {
  const auto n = model_.spots.size();
  double at_sensor = setting.sensor_lean_k;
  for (std::size_t i = 0; i < n; ++i) {
    in_.lean_k[i] = setting.lean_k[i] + resetting.lean_k[i] + drift.lean_k[i];
    if (i < model_.sensor.beside.size()) at_sensor += model_.sensor.beside[i] * in_.lean_k[i];
  }
  const double level_k = resetting.level_k + drift.level_k;
  in_.heat = setting.heat;
  if (is_held(model_.fire)) {
    at_sensor -= level_k;  // a sensor that sees less heat lets the whole chamber rise
  } else {
    in_.heat *= 1 + level_k / (rise_share * (model_.set_c - model_.weather.outside_c));
  }
  in_.lean_k[n] = at_sensor;
  in_.vent = setting.vent;
  in_.stir = setting.stir;
  in_.sensor_lag = setting.sensor_lag;
  in_.sensor_shade = setting.sensor_shade;
  in_.sensor_glow = setting.sensor_glow;
}

void Burning::use(const Setting& setting) {
  Shift none;
  none.lean_k.assign(model_.spots.size(), 0.0);
  use(setting, none, none);
}

void Burning::start_soaked(double t_s) {
  const Balance steady = balance(physics_, in_);
  y_ = steady.state;
  feeding_.emplace(model_.fire, model_.set_c, steady.heat_w, t_s, human_);
}

void Burning::start_cold(double t_s) {
  std::ranges::fill(y_, in_.outside_c);
  y_[bed] = y_[flame] = y_[heat_in] = y_[heat_out] = 0.0;
  feeding_.emplace(model_.fire, model_.set_c, 0.0, t_s, human_);
}

void Burning::cool_walls(double share) {
  for (const auto part : {wall, deep})
    y_[part] = in_.outside_c + share * (y_[part] - in_.outside_c);
}

void Burning::tick(double t_s) {
  in_.feed_w = feeding_->feed_w(t_s, y_[sensor]);
  integrator_.advance(physics_, in_, y_, tick_s, steps_);
}

}  // namespace pitwright::rehearse
