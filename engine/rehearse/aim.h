#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rehearse/truth.h"

namespace pitwright::rehearse {

/// What the truth at one setting is to be; what is left empty stays as the physics gives it.
struct Target {
  std::string setting;
  std::optional<double> level_c;
  std::vector<double> run_k;  ///< for each spot; their mean is taken off
};

/// How well an aim was met.
struct AimReport {
  bool met = false;
  double worst_k = 0;  ///< largest miss of any level or run
  int rounds = 0;
};

/// Turns the gains of the settings until the truth hits the targets within `tolerance_k`: a spot's
/// lean moves its run, the sensor's lean (held fires) or the share of heat (open fires) the level.
/// Accuracy: open fires, feeders and dampers reach 0.01 K; a relay looks once a tick, its cycle
/// locks
///           to ticks, and a few in a hundred stay some hundredths of a kelvin off.
/// Pre: each target names a setting of the model, and has no or one run for each spot
AimReport aim(PitModel& model, const std::vector<Target>& targets, double tolerance_k = 0.02,
              int rounds = 12);

/// Heat that keeps the sensor at the set point at a setting, pit soaked, day calm [W].
double needed_heat_w(const PitModel& model, const Setting& setting);

/// Turns the fire until the level at `setting` swings with this period and mean peak-to-trough
/// size: lags and span of a held fire, around the heat the pit needs; period and bed of a hand-fed
/// one. Met within 3 % of the period and 5 % of the size. Pre: the fire is a relay or fed by hand
AimReport aim_swing(PitModel& model, const std::string& setting, double period_s, double size_k,
                    int rounds = 12);

}  // namespace pitwright::rehearse
