#pragma once

#include <limits>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "pit/pit.h"

namespace pitwright::rehearse {

/// The pit's controller looks, the feed and the weather change, once a tick [s]; between ticks the
/// physics runs with them held.
inline constexpr double tick_s = 2.0;

/// How the fire is fed.
enum class FireKind {
  relay,   ///< thermostat: high feed below the set point, low feed above it; hopper, fan or burner
  feeder,  ///< PI control of a feeder that runs a share of each cycle
  damper,  ///< PI control of an air damper that moves slowly
  splits,  ///< fed by hand: a split every so often, sized by a look at the dial
  steady   ///< one feed all day: a gas valve left alone
};

/// The fire: feed, dead time, bed, flame.
///   bed_lag dB/dt = feed(t - dead_time) - B,   flame_lag dF/dt = B - F,   heat = F x fuel quality
struct Fire {
  FireKind kind = FireKind::relay;
  double high_w = 2600;        ///< heat of the feed fully on
  double low_w = 500;          ///< heat of the idling feed
  double dead_time_s = 20;     ///< from the feed's decision to the bed
  double bed_lag_s = 50;       ///< fuel catching
  double flame_lag_s = 20;     ///< flame building
  double half_band_k = 0.5;    ///< relay: switches at set point -+ this
  double gain_per_k = 0.02;    ///< PI: share of the span a kelvin of error asks for
  double reset_s = 600;        ///< PI: reset time
  double cycle_s = 30;         ///< feeder: one cycle of the auger
  double travel_s = 60;        ///< damper: time from shut to open
  double period_s = 1200;      ///< splits: one every so often
  double period_scatter = 0;   ///< splits: sd of an interval as a share of it (zero-mean)
  double size_scatter = 0;     ///< splits: sd of a split's heat as a share of it (zero-mean)
  double look_gain_per_k = 0;  ///< splits: how much bigger a split is for each kelvin below set
  double air_driven = 0;       ///< 0: heat as fed; 1: heat as fed x draught / draught at rest
  double plate_share = 0.6;    ///< of the heat, into plate or firebox; the rest into the air
  double fuel_j = std::numeric_limits<double>::infinity();  ///< what the hopper holds
};

/// Heat capacities [J/K], conductances [W/K] and the stack.
struct Body {
  double plate_j_k = 2500;      ///< plate, deflector or firebox
  double air_j_k = 1500;        ///< bulk air with the wire of the grates
  double wall_j_k = 7000;       ///< inner wall
  double deep_j_k = 2000;       ///< what lies behind it: thick parts, ceramic, brick
  double plate_air_w_k = 8;     ///< plate to air
  double plate_wall_m2 = 0.02;  ///< emissivity x view x area of the radiation plate to wall
  double air_wall_w_k = 18;
  double wall_deep_w_k = 1;
  double wall_out_w_k = 9;     ///< inner wall to outside in still air
  double deep_out_w_k = 0.3;   ///< deep part to outside in still air
  double wind_loss_s_m = 0.1;  ///< both grow by this share for each m/s of wind
  double vent_m2 = 0.004;      ///< effective opening, discharge coefficient included
  double stack_m = 0.6;        ///< height that draws
  double wind_draught = 0.1;   ///< share of the wind's pressure that adds to the draught
  double lid_w_k = 40;         ///< air exchanged while the lid is open
};

/// One place in the chamber.
///   lag dT/dt = (1 - kappa) X + kappa M - T,   metal_lag dM/dt = T - M
///   X = air + lean (plate - air) / plate_excess + wall_share (wall - air) - wind_k_s_m x gust
/// and its thermometer sees T + glow (plate - T).
struct Place {
  double lag_s = 40;         ///< air on its way
  double metal_share = 0.4;  ///< kappa: how much the metal beside it holds its air back
  double metal_lag_s = 360;
  double wall_share = 0;   ///< drawn towards the wall's temperature
  double glow = 0;         ///< radiation from the plate, as a share of plate - air
  double wind_k_s_m = 0;   ///< cooler by this for each m/s of wind above the plan's
  double lid_share = 0.4;  ///< share of outside air it gets while the lid is open
  double eddy_k = 0.4;     ///< sd of its own eddies (zero-mean)
};

/// A place with a name and a position, where thermometers can sit.
struct Spot {
  std::string name;
  std::string grate;
  double x_m = 0, y_m = 0, z_m = 0;
  Place place;
};

/// The sensor that the controller and the pit's display read.
///   lag dS/dt = (1 - glow - shade) T + glow plate + shade wall - S
/// T is the air of its own place, whose lean is own lean + sum of beside x lean of the spots.
struct Sensor {
  Place place{.eddy_k = 0.1};
  double lag_s = 15;
  double glow = 0.01;          ///< a blackened sensor takes up more
  double shade = 0.05;         ///< contact with the wall; a crust adds to it
  std::vector<double> beside;  ///< weights on the spots; empty: none
  std::string grate;           ///< where it sits, as its people would write it down
  std::optional<double> x_m, y_m, z_m;
};

/// What one setting of the adjustments does.
struct Setting {
  std::string name;
  std::map<std::string, std::string> adjustments;
  std::vector<double> lean_k;  ///< for each spot; see Place
  double sensor_lean_k = 0;    ///< the sensor's own
  double vent = 1;             ///< factor on Body::vent_m2
  double stir = 1;             ///< factor on plate to air and air to wall
  double heat = 1;             ///< share of the fire's heat that stays in the pit
  double sensor_lag = 1;       ///< factor: a crusted sensor is slow
  double sensor_shade = 0;     ///< added to Sensor::shade: a crusted sensor reads low
  double sensor_glow = 0;      ///< added to Sensor::glow: a blackened sensor reads hot
};

/// What varies by itself. Zero-mean ones are off in the truth.
struct Disturbance {
  double gust_m_s = 0.8;         ///< sd of the wind about its mean (zero-mean)
  double gust_lag_s = 90;        ///< its correlation time
  double drift_level_k = 0;      ///< sd of the slow wander of the level (zero-mean)
  double drift_lay_k = 0;        ///< sd of the slow wander of the lay (zero-mean)
  double drift_lag_s = 5400;     ///< correlation time of both
  double fuel_per_h = 0;         ///< trend of the fuel's quality, as a share
  double resetting_level_k = 0;  ///< sd: the fire does not come back exactly after a move
  double resetting_lay_k = 0;    ///< sd: nor does the lever
};

/// The day.
struct Weather {
  double outside_c = 15;
  double outside_k_per_h = 0;
  double wind_m_s = 1.5;
  double sun_w = 0;      ///< absorbed by the wall at the burn's zero
  double sun_per_h = 0;  ///< trend of it [W/h]
};

/// A pit that burns by physics: everything that is the same for all plans.
struct PitModel {
  Pit pit;
  double set_c = 121;  ///< set point
  Fire fire;
  Body body;
  std::vector<Spot> spots;
  Sensor sensor;
  double plate_excess_k = 60;  ///< the plate - air at which a lean acts with its full size
  std::vector<Setting> settings;
  Disturbance disturbance;
  Weather weather;
};

/// Index of a setting by name; -1 where there is none.
int setting_index(const PitModel& model, const std::string& name);

/// Does the fire answer to the sensor (then a shift of heat at the sensor moves the level)?
inline bool is_held(const Fire& fire) {
  return fire.kind != FireKind::steady && fire.kind != FireKind::splits;
}

/// Time from split to split, in whole ticks [s].
double split_period_s(const Fire& fire);

}  // namespace pitwright::rehearse
