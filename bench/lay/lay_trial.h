#pragma once

#include <cstdint>
#include <vector>

#include "call/together.h"
#include "lay/lay.h"
#include "pit/pit.h"
#include "rehearse/model.h"

namespace pitwright::bench {

/// A rehearsed burn on a pit whose heat lies in a smooth pattern of its own: plumes, walls, tilts
/// and waves, not the lay's covariance. Some places carry no thermometer: only the truth knows
/// them.
struct LayTrial {
  Pit pit;
  call::Together together;
  struct Hidden {
    lay::Place place;
    std::vector<double> run_k;  ///< per setting, against the true level of the measured spots
  };
  std::vector<Hidden> hidden;
  std::vector<lay::Place> spots;           ///< measured
  std::vector<std::vector<double>> run_k;  ///< [spot][setting] the truth
};

/// Spots 5-12 on one or two grates, 1-3 settings, forth and back.
LayTrial lay_trial(std::uint64_t seed);

/// Sums over trials of how predictions did.
struct Score {
  int count = 0, covered = 0;
  double z = 0.0, z2 = 0.0, error2 = 0.0;
  void add(double truth, double predicted, double sd, double low, double high);
  double mean_z() const { return z / count; }
  double sd_z() const;
  double coverage() const { return static_cast<double>(covered) / count; }
  double rms() const;
};

/// Means of others by the plain rules that a map is compared with.
double inverse_distance(const std::vector<lay::Place>& at, const std::vector<double>& value,
                        const lay::Place& wanted);
double nearest(const std::vector<lay::Place>& at, const std::vector<double>& value,
               const lay::Place& wanted);

struct LayScores {
  Score left_out;            ///< measured runs predicted from the other spots, 90 % ranges
  Score hidden;              ///< true runs at places without a thermometer, 90 % ranges
  Score hidden_differences;  ///< true differences between settings there
  double inverse_distance2 = 0.0, nearest2 = 0.0;                ///< squared errors, left out
  double hidden_inverse_distance2 = 0.0, hidden_nearest2 = 0.0;  ///< the same, hidden
  int burns = 0;
};

/// Adds one trial's figures.
void score(const LayTrial& trial, LayScores& scores);

}  // namespace pitwright::bench
