#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pit/burn.h"
#include "units/temperature.h"

namespace pitwright::rehearse {

struct PlannedStint {
  std::string setting;
  double dwell_s = 2100;
};

/// The state of the pit when the record begins.
enum class Start {
  soaked,          ///< burning for hours at the first setting
  cold,            ///< lit at the burn's zero, everything at the outside temperature
  short_of_soaked  ///< burning at heat, but wall and deep parts lag behind; see Plan::soaked_share
};

struct LidOpening {
  double at_s = 0;
  double open_s = 60;
  bool marked = true;  ///< the cook wrote it down
};

/// Cold pans or meat put in: a heat capacity that draws its neighbours down while it warms.
struct ColdLoad {
  double at_s = 0;
  double heat_j_k = 12000;
  double start_c = 5;
  double air_w_k = 4;              ///< exchange with the chamber's air
  std::vector<double> spot_share;  ///< for each spot: share of the load's temperature in its air
};

/// A weather front: outside temperature and wind go to new values within `within_s`.
struct Front {
  double at_s = 0;
  double within_s = 600;
  double outside_c = 10;
  double wind_m_s = 8;
};

/// What is done with the pit.
struct Plan {
  std::vector<PlannedStint> stints;
  double lead_s = 0;  ///< recorded before the first stint, at its setting
  Start start = Start::soaked;
  double soaked_share = 1;  ///< short_of_soaked: share of the wall's and deep part's rise present
  std::vector<LidOpening> lids;
  std::vector<ColdLoad> loads;  ///< at most one acts at a time: a later one replaces it
  std::optional<Front> front;
};

/// What a channel's cells hold from `from_s` to `to_s`: a word such as "LLL", "-999" or nothing;
/// or, where frozen, the last good reading.
struct Fault {
  double from_s = 0;
  double to_s = 0;
  bool frozen = false;
  std::string word;
};

/// A thermometer moved to another spot.
struct Move {
  double at_s = 0;
  int spot = 0;
};

/// One channel of a logger.
struct Thermometer {
  std::string channel;
  Role role = Role::air;
  int spot = 0;  ///< for Role::air
  double lag_s = 15;
  double bias_k = 0;
  double noise_k = 0.15;       ///< sd of each reading (zero-mean)
  double touching = 0;         ///< share of bare metal in what it reads
  double touching_lag_s = 90;  ///< the metal's own lag at the clip
  double rail = 0.3;           ///< that metal = wall + rail x (plate - wall)
  std::vector<Fault> faults = {};
  std::vector<Move> moves = {};  ///< ascending
};

/// A box that logs: its own clock, unit, interval and rounding.
struct Logger {
  std::string name;  ///< file name without ".csv"
  Scale scale = Scale::fahrenheit;
  double interval_s = 10;
  double rounding = 0.1;           ///< in its scale; 0: none
  double clock_ahead_s = 0;        ///< its stamps at the burn's zero less the true time
  double clock_drift_s_per_h = 0;  ///< and how much more each hour
  std::string timezone;            ///< of its stamps in a file; empty: the burn's
  std::vector<Thermometer> thermometers;
};

struct Kit {
  std::vector<Logger> loggers;
};

}  // namespace pitwright::rehearse
