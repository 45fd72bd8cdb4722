#pragma once

#include <span>
#include <string>
#include <vector>

#include "numeric/random.h"
#include "rehearse/aim.h"
#include "rehearse/rehearse.h"

namespace pitwright::rehearse {

/// A burn for a bench: a pit nobody chose, its thermometers, its plan, and the effects it was
/// given.
struct RandomBurn {
  PitModel model;
  Kit kit;
  Plan plan;
  std::vector<Target> targets;  ///< one a setting, in the order of first appearance
  AimReport aimed;              ///< whether the truth hits them
};

struct RandomDesign {
  std::vector<std::string> order;  ///< settings of the stints
  double dwell_s = 1800;
  /// Sizes that the true change of the level, and of one spot's run, from the first setting are
  /// drawn from; their sign is drawn too. Empty: normal, sd 5 K.
  std::vector<double> sizes_k = {};
};

/// A pit drawn over the ranges of docs/methods/rehearse.md: all fires, swings of 3-20 min and none,
/// drifts, re-setting errors of 0-2 degF, 4-8 spots. Settings have no effects yet.
PitModel random_pit(numeric::Random& random, const std::vector<std::string>& settings);

/// Thermometers for it: sampling 1-30 s, rounding 0.1-1 degree, lag, bias, noise.
Kit random_kit(numeric::Random& random, const PitModel& model);

/// Pit, kit and plan with effects of exact size. A pit whose fire cannot reach them is drawn anew.
/// Pre:  the order names at least one setting
/// Cost: about twenty truths
RandomBurn random_burn(numeric::Random& random, const RandomDesign& design);

}  // namespace pitwright::rehearse
