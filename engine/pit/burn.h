#pragma once

#include <chrono>
#include <limits>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "pit/correction.h"
#include "pit/pit.h"
#include "units/temperature.h"

namespace pitwright {

/// What a channel measures.
enum class Role {
  air,      ///< chamber air at a spot; level and lay are over these
  dial,     ///< the pit's own sensor
  food,     ///< inside a piece
  outside,  ///< outside air
  wind,     ///< wind speed [km/h]
  drive,    ///< fan or feeder [%]
  set       ///< set point
};

std::string_view name_of(Role role);

/// One channel's samples on the burn's clock.
/// Shapes: seconds and values have equal length; seconds ascend strictly.
struct Readings {
  std::vector<double> seconds;  ///< since the burn's zero
  std::vector<double> values;   ///< degC as logged (km/h for wind, % for drive); NaN where missing
};

/// A thermometer at its spot for a stretch of time. A channel that was moved or swapped appears
/// once per place, with its readings cut to that stretch.
struct Probe {
  std::string channel;
  Role role = Role::air;
  std::string spot;                     ///< empty for roles that need none
  std::string grate;                    ///< empty where unknown
  std::optional<double> x_m, y_m, z_m;  ///< from the left wall, from the door side, above the floor
  std::string piece;                    ///< for Role::food
  TemperatureDelta correction = TemperatureDelta::from_kelvins(0);  ///< to be added to a reading
  std::optional<TemperatureDelta> uncertainty;  ///< +- at 95 %; empty: nobody checked this probe
  std::optional<std::chrono::year_month_day> checked;
  /// A correction that depends on the reading; where it has points, they stand in place of
  /// `correction` and, where they tell it, of `uncertainty`.
  Correction line;
  Readings readings;  ///< uncorrected
};

/// What to add to a reading of this probe [K].
double correction_k(const Probe& probe, double reading_c);

/// +- at 95 % of its corrected readings around `reading_c` [K]; empty: nobody checked this probe.
std::optional<double> uncertainty_k(const Probe& probe, double reading_c);

/// One stretch of the burn at one setting.
struct Stint {
  std::string setting;                             ///< the name that is compared
  std::map<std::string, std::string> adjustments;  ///< position of each adjustment, where given
  double from_s = 0.0;
  double to_s = 0.0;
};

enum class EventKind { lid, split, fuel, gust, rain, moved, note };

std::string_view name_of(EventKind kind);

/// Something that happened and was marked.
struct Event {
  EventKind kind = EventKind::note;
  double at_s = 0.0;
  std::optional<double> until_s;
  std::string channel;  ///< empty: all
  std::string piece;
  std::string text;
};

/// One piece of food of a burn that cooks.
struct Piece {
  std::string name;
  std::string cut;
  std::optional<double> mass_kg;
  std::optional<bool> intact;
  std::optional<double> on_s, off_s;
  std::string rule, by, action;
};

/// Where the burn's zero lies on the world's clock. Without an instant, times are shown as offsets.
struct BurnClock {
  std::optional<Instant> zero;
  std::string timezone;  ///< IANA name; empty means UTC
};

/// One lit fire and everything recorded of it, ready for the engine: one clock, degC, probes at
/// spots.
struct Burn {
  std::string title;
  Scale scale = Scale::fahrenheit;  ///< what its people read; the engine does not use it
  TemperatureDelta matters = TemperatureDelta::from_fahrenheit_degrees(10);
  BurnClock clock;
  double clock_uncertainty_s = 0.0;  ///< +- at 95 % between its loggers; 0 where there is one clock
  Pit pit;
  std::vector<Probe> probes;
  std::vector<Stint> stints;  ///< ascending, never overlapping
  std::vector<Event> events;  ///< ascending
  std::vector<Piece> pieces;

  /// First and last sample over all probes [s]; both 0 where there is none.
  double first_s() const;
  double last_s() const;
};

}  // namespace pitwright
