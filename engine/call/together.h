#pragma once

#include <optional>
#include <string>
#include <vector>

namespace pitwright::call {

/// What a thermometer showed over the counted time of one setting, on the panel's moments.
struct CountedReadings {
  int moments = 0;      ///< 0: none, and the numbers are NaN
  double mean_c, sd_k;  ///< sd of single moments about their mean
  double low_c, high_c;
};

/// How one spot runs at every setting, with its errors. Vectors have one entry a setting.
///
/// The error of a run is e_i - (mean of e over the level spots): e_i is the spot's own error.
/// Errors of different spots are independent; those of one spot at several settings are not, and
/// its thermometer's error is the same at all of them:
///   cov(e_i at s, e_i at t) = covariance_k2[s * settings + t] + probe_sd_k^2
struct SpotTogether {
  std::string spot, channel, grate;
  std::optional<double> x_m, y_m, z_m;
  bool in_level = false;
  double probe_sd_k = 0.0;
  bool probe_checked = false;         ///< probe_sd_k comes from a check, not from a default
  std::vector<double> run_k;          ///< NaN where the setting was never counted
  std::vector<double> covariance_k2;  ///< settings x settings, row-major; without the thermometer
  std::vector<CountedReadings> counted;
};

/// Runs of all spots and level at all settings, as laws that belong together: what a map needs and
/// single ranges do not hold.
struct Together {
  std::vector<std::string> settings;
  std::vector<SpotTogether> spots;
  std::vector<double> level_c;              ///< NaN where the setting was never counted
  std::vector<double> level_covariance_k2;  ///< settings x settings, without the thermometers
  double level_probe_sd_k = 0.0;            ///< of the mean of the level's thermometers
  std::vector<double> dial_gap_k;           ///< dial less level; empty without a dial
  std::vector<double> dial_gap_covariance_k2;
  std::vector<double> outside_c;  ///< mean outside air over the counted time; NaN where unknown
};

}  // namespace pitwright::call
