#pragma once

#include <vector>

#include "numeric/random.h"
#include "rehearse/model.h"
#include "rehearse/physics.h"
#include "rehearse/plan.h"

namespace pitwright::rehearse {

/// A departure from the setting's own effect: of each spot [K at full plate excess] and the level.
struct Shift {
  std::vector<double> lean_k;
  double level_k = 0;
};

/// A Gauss-Markov process of sd 1, exact at the ticks.
class Wander {
 public:
  Wander(double lag_s, numeric::Random& random);
  void tick(numeric::Random& random);
  double value() const { return value_; }

 private:
  double keep_, fresh_;
  double value_;
};

/// Directions in which heat can move about: left-right, front-back, up-down, as far as the spots
/// have distinct coordinates. Each has mean 0 and root mean square 1 over the spots.
std::vector<std::vector<double>> lay_modes(const PitModel& model);

/// The lever's and the fire's re-setting error: half along the lay modes, half spot by spot.
Shift draw_resetting(const PitModel& model, numeric::Random& random);

/// What the day does to the pit: weather, gusts, eddies, drift. Advances tick by tick.
class Unrest {
 public:
  Unrest(const PitModel& model, const Plan& plan, std::uint64_t seed);

  /// Sets the weather, fuel and eddies of the tick that starts at `t_s`; ticks must follow on.
  void apply(double t_s, Inputs& in);
  /// The slow wander at the last applied tick.
  const Shift& drift() const { return drift_; }

 private:
  const PitModel& model_;
  const Plan& plan_;
  numeric::Random random_;
  std::vector<std::vector<double>> modes_;
  Wander gust_, level_;
  std::vector<Wander> lay_, eddies_;
  Shift drift_;
};

/// The same pit with everything zero-mean off, on the weather the burn begins with.
void apply_calm(const PitModel& model, Inputs& in);

}  // namespace pitwright::rehearse
