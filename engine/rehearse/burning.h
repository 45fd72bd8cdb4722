#pragma once

#include <optional>

#include "rehearse/feeding.h"
#include "rehearse/physics.h"
#include "rehearse/unrest.h"

namespace pitwright::rehearse {

/// A pit alight: its state, its feeding, the setting in force.
class Burning {
 public:
  /// Not yet lit: use(), set the weather in inputs(), then start_soaked() or start_cold().
  Burning(const PitModel& model, numeric::Random* human);

  Inputs& inputs() { return in_; }
  const Inputs& inputs() const { return in_; }
  std::vector<double>& state() { return y_; }
  const std::vector<double>& state() const { return y_; }
  const Physics& physics() const { return physics_; }
  const Feeding& feeding() const { return *feeding_; }

  /// Puts a setting in force, with departures from it (re-setting, drift) added up.
  void use(const Setting& setting, const Shift& resetting, const Shift& drift);
  void use(const Setting& setting);

  /// Steady state of the setting in force on the weather in inputs(); the fire runs at its mean.
  void start_soaked(double t_s);
  /// Everything at the outside temperature, fire lit at t_s.
  void start_cold(double t_s);
  /// Wall and deep part keep only this share of their rise above the outside.
  void cool_walls(double share);

  /// Advances one tick from t_s.
  void tick(double t_s);

  double spot_c(int spot) const { return physics_.spot_c(in_, y_, spot); }
  double sensor_c() const { return y_[sensor]; }

 private:
  const PitModel& model_;
  Physics physics_;
  Integrator integrator_;
  numeric::Random* human_;
  std::optional<Feeding> feeding_;
  Inputs in_;
  std::vector<double> y_;
  int steps_;
};

}  // namespace pitwright::rehearse
