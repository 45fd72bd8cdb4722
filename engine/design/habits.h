#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "call/effects.h"
#include "call/errors_model.h"
#include "call/leaks.h"
#include "call/report.h"
#include "pit/burn.h"

namespace pitwright::design {

enum class Fuel { pellet, charcoal, wood, gas };

std::string_view name_of(Fuel fuel);

/// How a pit behaves, as far as a plan depends on it: learned from a burn, or what pits of its sort
/// do. The vectors of scales stand for a law: each entry is as likely as any other.
struct Habits {
  call::Swing swing;
  double lag_s = 360.0, lag_low_s = 360.0, lag_high_s = 360.0;
  bool lag_borrowed = false;
  double soak_s = 3600.0;  ///< from lighting to soaked
  bool soak_learned = false;
  double fire_cycle_s = 0.0;  ///< from one split to the next; 0: the fire is not fed by hand
  std::vector<call::Scales> level;
  /// How a change of the level may come in: as a held fire's or an open one's, each as likely.
  std::vector<call::LeakPriors> level_leaks = {call::of_a_held_level, call::of_an_open_level};
  /// One spot's own errors, against a level of very many spots.
  std::vector<call::Scales> spot;
  /// A tilt's, by axis, were the squares of its shares to sum to 1; empty: as `spot`.
  std::array<std::vector<call::Scales>, 3> tilt;
  std::string learned_from;  ///< title of the burn; empty where nothing was learned
  bool learned = false;
  /// Where the pit's own sensor sits [m], as the burn placed its dial.
  std::optional<double> sensor_x_m, sensor_y_m, sensor_z_m;
};

/// What pits of this fuel do, before one has been measured: swing and cycle by common practice, the
/// three errors as made-up pits of all sorts have them (docs/methods/design.md).
Habits assumed_habits(std::optional<Fuel> fuel);

/// The priors that the call may use for the level of a pit, each as likely: what it takes depends
/// on whether the dial turns out to be held.
std::vector<call::ScalePriors> planned_level_priors(const Habits& habits);

/// What a burn showed of its pit: swing, lag, soak (where the log began cold), and the scales of
/// drift, noise and re-setting that its posterior leaves, of the level, the spots and the tilts.
/// Fails: bad_input where the burn cannot be called at all.
Result<Habits> learned_habits(const Burn& burn);

}  // namespace pitwright::design
