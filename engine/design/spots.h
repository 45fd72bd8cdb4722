#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "design/habits.h"
#include "pit/pit.h"

namespace pitwright::design {

/// A place for a probe. Shares run from 0 to 1: left to right, door to back, lowest to highest
/// grate.
struct PlannedSpot {
  std::string name;   ///< "left front", "center"; with the grate's name where there are two or more
  std::string grate;  ///< empty where the pit names none
  std::optional<double> x_share, y_share,
      z_share;                          ///< empty: beside a sensor whose place is unknown
  std::optional<double> x_m, y_m, z_m;  ///< where the pit's dimensions are known
  bool beside_sensor = false;
};

/// What the pit's file does not say and the plan would use.
enum class Missing { width, depth, grates, grate_height, sensor_place };

/// Where the probes go. With fewer than four probes the lay takes several burns, or several rounds
/// of one: the anchor stays, the others move.
struct SpotPlan {
  std::vector<PlannedSpot> spots;
  int anchor = 0;                        ///< of spots: never moved
  std::vector<std::vector<int>> rounds;  ///< spots measured together; at least one round
  std::vector<Missing> missing;
};

/// Chooses places on the grates: those that leave the smallest mean variance over all grates of a
/// lay that is a steep plane plus a smooth Matern-5/2 surface (docs/methods/design.md). From five
/// probes on one goes beside the pit's own sensor. Pre: 1 <= probes <= most_probes(pit)
SpotPlan choose_spots(const Pit& pit, const Habits& habits, int probes);

/// How many probes the rule can place.
int most_probes(const Pit& pit);

/// What a tilt's scales are, in those of one spot: root of the sum of squares of its shares,
///   c_i = (x_i - mean x) / sum (x - mean x)^2 * extent
/// over a round's spots; empty where the spots have fewer than two places on the axis.
std::array<std::optional<double>, 3> tilt_factors(const SpotPlan& plan,
                                                  const std::vector<int>& round);

}  // namespace pitwright::design
