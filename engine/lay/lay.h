#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "call/report.h"
#include "call/together.h"
#include "pit/pit.h"

namespace pitwright::lay {

// The lay as a value: how heat lies in the chamber, with what is not known of it. Temperatures
// degC, differences K, lengths m: x from the left wall, y from the door side, z above the floor. A
// run is the air of a place less the level (the mean over the level spots). Ranges are 95 %.

using call::Estimate;

/// Numbers on a lattice: [y][x].
using Grid = std::vector<std::vector<double>>;

struct Place {
  double x_m = 0.0, y_m = 0.0, z_m = 0.0;
};

/// A measured spot. `by_setting` has one entry a setting of the lay; empty where nothing counted.
struct LaySpot {
  struct Measured {
    double run_k, sd_k;  ///< as measured, thermometer included
  };
  std::string spot, channel, grate;
  Place place;
  bool in_level = false;
  std::vector<std::optional<Measured>> by_setting;
};

/// The hottest or coolest place of a grate.
struct Extreme {
  Place place;  ///< where the chance of being it is densest
  double run_k, sd_k;
  double chance;  ///< that the true one lies within `within_m` of `place`
  double within_m;
};

/// Share of the grate's area within `band_k` of `center_c`.
struct Within {
  enum class Around { set_point, level };
  Around around = Around::level;
  double center_c, band_k;
  Estimate share;  ///< 0..1
};

/// The largest upright rectangle of which the whole lies within the band with the asked chance.
struct Rectangle {
  double x_low_m, x_high_m, y_low_m, y_high_m;
  double chance;      ///< of all its nodes at once
  double area_share;  ///< of the grate
};

/// The map of one grate at one setting. Every node stands for an equal cell of the grate; x_m and
/// y_m are the cells' middles.
struct GrateLay {
  std::string grate;  ///< empty where the pit names none
  double z_m = 0.0;
  double width_m = 0.0, depth_m = 0.0;  ///< what the lattice covers, from (x0_m, y0_m)
  double x0_m = 0.0, y0_m = 0.0;
  std::vector<double> x_m, y_m;
  Grid value_k, sd_k;  ///< runs
  Grid known;          ///< 0..1: share of the variance that the measurements took away
  Extreme hottest, coolest;
  Within within;
  std::optional<Rectangle> usable;  ///< empty where not even one cell has the asked chance
};

struct SettingLay {
  std::string setting;
  Estimate level_c;  ///< thermometers included
  std::vector<GrateLay> grates;
};

/// Runs at `to` less runs at `from`, with their own uncertainty.
struct DifferenceLay {
  struct OnGrate {
    std::string grate;
    Grid value_k, sd_k;  ///< on the lattice of the settings' grates
  };
  int from = 0, to = 0;  ///< of Lay::settings
  std::vector<OnGrate> grates;
};

/// Where one more probe would tell most.
struct NextSpot {
  std::string grate;
  Place place;
  double variance_fall;  ///< share of the maps' mean variance that it is expected to take away,
                         ///< those before it in the list already placed
};

/// A spot predicted from all others.
struct LeftOut {
  int spot, setting;  ///< of Lay::spots and Lay::settings
  double measured_k, predicted_k, sd_k;
  double low_k, high_k;  ///< 90 % range of the prediction, thermometer included
};

enum class LayNote {
  on_a_line,      ///< all spots lie on a line or plane: across it the map rests on the prior
  shared_place,   ///< some spots lie at one place
  few_spots,      ///< fewer than four places
  no_size,        ///< the pit's size is unknown: the lattice covers what lies between the spots
  no_position,    ///< some spots have no position; see Lay::unplaced
  height_assumed  ///< heights are unknown: all spots are taken to lie on one grate
};

/// What the integrated scales came out as: median and 95 % range of each.
struct Scales {
  Estimate size_k;                   ///< sd of the smooth part
  Estimate tilt_k;                   ///< sd of a tilt across the chamber
  Estimate local_k;                  ///< sd of what only one spot sees
  std::array<Estimate, 3> length_m;  ///< along x, y, z
  Estimate own_share;  ///< share of the lay that belongs to a setting alone; NaN with one setting
};

class Posterior;  ///< see lay/posterior.h

struct Lay {
  std::vector<SettingLay> settings;  ///< those that were counted
  std::vector<std::string> uncounted;
  std::vector<LaySpot> spots;
  std::vector<std::string> unplaced;  ///< spots without a position: in the level, not on the map
  std::vector<DifferenceLay> differences;  ///< (0,1), (0,2), (1,2), ...
  std::vector<NextSpot> next_spots;
  std::vector<LeftOut> leave_one_out;
  std::vector<LayNote> notes;
  Scales scales;
  std::shared_ptr<const Posterior> posterior;
};

struct LayOptions {
  int nodes_x = 60, nodes_y = 40;
  double band_k = 10.0 / 1.8;  ///< for Within and Rectangle
  double chance = 0.9;         ///< for Rectangle
  std::optional<double> target_c =
      {};  ///< center of the band; else the pit's set point, else the level
  int next_spots = 3;
};

/// The lay of a burn from what the call measured.
/// Fails: bad_input where no two spots with a position lie apart; the sentence says what to add.
/// Source: docs/methods/lay.md.
Result<Lay> make_lay(const Pit& pit, const call::Together& together,
                     const LayOptions& options = {});

/// What the lay says of one place at one setting.
struct AtPlace {
  int setting;
  double run_k, sd_k;
  double low_k, high_k;                       ///< 95 %
  double celsius, celsius_low, celsius_high;  ///< level and run together
};

/// The posterior at a place, one entry a setting.
/// Pre: the lay came from make_lay.
std::vector<AtPlace> at(const Lay& lay, const Place& place);

/// A rectangle at one height; a point where both sides are zero.
struct Patch {
  double x_low_m, x_high_m, y_low_m, y_high_m, z_m;
};

/// The same for the mean over a patch. Pre: as at(); low <= high.
std::vector<AtPlace> over(const Lay& lay, const Patch& patch);

}  // namespace pitwright::lay
