#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "rehearse/model.h"

namespace pitwright::rehearse {

/// The fire's cycle as it shows in one place.
struct TrueSwing {
  std::optional<double> period_s;  ///< empty: no cycle above 0.1 K
  double size_k = 0;               ///< mean peak to trough
};

/// Long-run means at one setting: the pit soaked, on the weather the burn begins with, everything
/// zero-mean and every drift off, averaged over whole swings.
struct SettingTruth {
  std::string setting;
  double level_c = 0;
  std::vector<double> spot_c;  ///< what a small bare thermometer without error shows
  std::vector<double> run_k;   ///< spot less level
  std::array<std::optional<double>, 3> tilt_k;  ///< left-right, front-back, top-bottom
  double spread_k = 0;
  double dial_c = 0;
  double dial_gap_k = 0;  ///< dial less level
  TrueSwing swing;        ///< of the level
  TrueSwing dial_swing;
  double heat_w = 0;          ///< mean heat of the fire into the pit
  double plate_excess_k = 0;  ///< mean of plate less air
};

struct Truth {
  std::vector<std::string> spots;
  std::vector<SettingTruth> settings;  ///< in the order of the model

  const SettingTruth& at(const std::string& setting) const;  ///< Pre: it is there
};

/// The truth at one setting, by running the same model without unrest.
SettingTruth truth_at(const PitModel& model, const Setting& setting);
Truth truth_of(const PitModel& model);

/// The same truth with level, runs, tilts and spread over some of the spots only (ascending
/// indices): what a call can know that has thermometers at these.
Truth over_spots(const PitModel& model, const Truth& truth, std::span<const int> spots);

}  // namespace pitwright::rehearse
