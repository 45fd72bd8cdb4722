#include <cmath>
#include <string_view>

#include "rehearse/rehearse.h"

namespace pitwright::rehearse {
namespace {

struct Bounded {
  std::string_view name;
  double value, low, high;
};

Result<void> within(std::initializer_list<Bounded> all) {
  for (const auto& b : all) {
    if (!(b.value >= b.low && b.value <= b.high))
      return fail(ErrorKind::bad_input, "{} is {}, and must lie between {} and {}", b.name, b.value,
                  b.low, b.high);
  }
  return {};
}

Result<void> check_fire(const Fire& f) {
  return within({{"fire.high (W)", f.high_w, 1, 1e6},
                 {"fire.low (W)", f.low_w, 0, f.high_w},
                 {"fire.dead_time (s)", f.dead_time_s, 0, 3600},
                 {"fire.bed_lag (s)", f.bed_lag_s, 2, 36000},
                 {"fire.flame_lag (s)", f.flame_lag_s, 2, 36000},
                 {"fire.half_band (K)", f.half_band_k, 0, 100},
                 {"fire.gain (1/K)", f.gain_per_k, 0, 10},
                 {"fire.reset (s)", f.reset_s, 1, 1e6},
                 {"fire.cycle (s)", f.cycle_s, 2 * tick_s, 3600},
                 {"fire.travel (s)", f.travel_s, tick_s, 36000},
                 {"fire.period (s)", f.period_s, 60, 36000},
                 {"fire.period_scatter", f.period_scatter, 0, 1},
                 {"fire.size_scatter", f.size_scatter, 0, 1},
                 {"fire.look_gain (1/K)", f.look_gain_per_k, 0, 1},
                 {"fire.air_driven", f.air_driven, 0, 1},
                 {"fire.plate_share", f.plate_share, 0.01, 1}});
}

Result<void> check_body(const Body& b) {
  return within({{"body.plate (J/K)", b.plate_j_k, 10, 1e8},
                 {"body.air (J/K)", b.air_j_k, 10, 1e8},
                 {"body.wall (J/K)", b.wall_j_k, 10, 1e8},
                 {"body.deep (J/K)", b.deep_j_k, 10, 1e8},
                 {"body.plate_air (W/K)", b.plate_air_w_k, 0.1, 1e4},
                 {"body.plate_wall (m2)", b.plate_wall_m2, 0, 100},
                 {"body.air_wall (W/K)", b.air_wall_w_k, 0.1, 1e4},
                 {"body.wall_deep (W/K)", b.wall_deep_w_k, 1e-3, 1e4},
                 {"body.wall_out (W/K)", b.wall_out_w_k, 0, 1e4},
                 {"body.deep_out (W/K)", b.deep_out_w_k, 1e-3, 1e4},
                 {"body.wind_loss (s/m)", b.wind_loss_s_m, 0, 10},
                 {"body.vent (m2)", b.vent_m2, 1e-5, 1},
                 {"body.stack (m)", b.stack_m, 0, 20},
                 {"body.wind_draught", b.wind_draught, 0, 1},
                 {"body.lid (W/K)", b.lid_w_k, 0, 1e4}});
}

Result<void> check_place(const Place& p, std::string_view where) {
  auto sound = within({{"lag (s)", p.lag_s, 2, 3600},
                       {"metal_share", p.metal_share, 0, 0.95},
                       {"metal_lag (s)", p.metal_lag_s, 2, 36000},
                       {"wall_share", p.wall_share, -1, 1},
                       {"glow", p.glow, 0, 0.9},
                       {"wind (K s/m)", p.wind_k_s_m, -50, 50},
                       {"lid_share", p.lid_share, 0, 1},
                       {"eddy (K)", p.eddy_k, 0, 50}});
  if (!sound) return fail(ErrorKind::bad_input, "spot '{}': {}", where, sound.error().what);
  return {};
}

Result<void> check_setting(const PitModel& model, const Setting& s) {
  if (s.lean_k.size() != model.spots.size())
    return fail(ErrorKind::bad_input, "setting '{}' has {} leans for {} spots", s.name,
                s.lean_k.size(), model.spots.size());
  for (const double lean : s.lean_k) {
    const auto sound = within({{"lean (K)", lean, -500, 500}});
    if (!sound) return fail(ErrorKind::bad_input, "setting '{}': {}", s.name, sound.error().what);
  }
  const auto sound = within({{"sensor_lean (K)", s.sensor_lean_k, -500, 500},
                             {"vent", s.vent, 0.01, 100},
                             {"stir", s.stir, 0.05, 20},
                             {"heat", s.heat, 0.01, 10},
                             {"sensor_lag", s.sensor_lag, 0.2, 100},
                             {"sensor_shade", s.sensor_shade, -0.5, 0.9},
                             {"sensor_glow", s.sensor_glow, -0.5, 0.9}});
  if (!sound) return fail(ErrorKind::bad_input, "setting '{}': {}", s.name, sound.error().what);
  return {};
}

Result<void> check_unrest(const PitModel& m) {
  const auto& d = m.disturbance;
  const auto& w = m.weather;
  return within({{"set point (C)", m.set_c, 20, 600},
                 {"plate_excess (K)", m.plate_excess_k, 1, 1000},
                 {"gust (m/s)", d.gust_m_s, 0, 30},
                 {"gust_lag (s)", d.gust_lag_s, 1, 36000},
                 {"drift_level (K)", d.drift_level_k, 0, 100},
                 {"drift_lay (K)", d.drift_lay_k, 0, 100},
                 {"drift_lag (s)", d.drift_lag_s, 60, 1e6},
                 {"fuel_per_h", d.fuel_per_h, -0.5, 0.5},
                 {"resetting_level (K)", d.resetting_level_k, 0, 100},
                 {"resetting_lay (K)", d.resetting_lay_k, 0, 100},
                 {"outside (C)", w.outside_c, -60, 60},
                 {"outside_per_h (K)", w.outside_k_per_h, -30, 30},
                 {"wind (m/s)", w.wind_m_s, 0, 40},
                 {"sun (W)", w.sun_w, 0, 1e4},
                 {"sun_per_h (W)", w.sun_per_h, -1e4, 1e4}});
}

Result<void> check_kit(const PitModel& model, const Kit& kit) {
  const auto spots = static_cast<int>(model.spots.size());
  for (const auto& logger : kit.loggers) {
    const auto sound = within(
        {{"interval (s)", logger.interval_s, 0.5, 3600}, {"rounding", logger.rounding, 0, 50}});
    if (!sound)
      return fail(ErrorKind::bad_input, "logger '{}': {}", logger.name, sound.error().what);
    for (const auto& t : logger.thermometers) {
      if (t.role == Role::food)
        return fail(ErrorKind::bad_input, "channel '{}': a rehearsal has no food yet", t.channel);
      bool spot_known = t.spot >= 0 && t.spot < spots;
      for (const auto& move : t.moves)
        spot_known = spot_known && move.spot >= 0 && move.spot < spots;
      if (t.role == Role::air && !spot_known)
        return fail(ErrorKind::bad_input, "channel '{}' sits at a spot the pit does not have",
                    t.channel);
    }
  }
  return {};
}

Result<void> check_plan(const PitModel& model, const Plan& plan) {
  if (plan.stints.empty()) return fail(ErrorKind::bad_input, "the plan has no stint");
  double total_s = plan.lead_s;
  for (const auto& stint : plan.stints) {
    if (setting_index(model, stint.setting) < 0) {
      std::string known;
      for (const auto& s : model.settings) known += (known.empty() ? "" : ", ") + s.name;
      return fail(ErrorKind::bad_input, "the pit has no setting '{}'; it has {}", stint.setting,
                  known);
    }
    if (!(stint.dwell_s >= 60))
      return fail(ErrorKind::bad_input, "a stint of {} s is too short; at least a minute",
                  stint.dwell_s);
    total_s += stint.dwell_s;
  }
  return within({{"the time before the first stint (s)", plan.lead_s, 0, 48 * 3600.0},
                 {"the whole plan (s)", total_s, 60, 100 * 3600.0},
                 {"soaked_share", plan.soaked_share, 0, 1}});
}

}  // namespace

Result<void> check(const PitModel& model, const Kit& kit, const Plan& plan) {
  if (model.spots.empty()) return fail(ErrorKind::bad_input, "the pit has no spots");
  if (auto sound = check_fire(model.fire); !sound) return sound;
  if (auto sound = check_body(model.body); !sound) return sound;
  if (auto sound = check_unrest(model); !sound) return sound;
  for (const auto& spot : model.spots) {
    if (auto sound = check_place(spot.place, spot.name); !sound) return sound;
  }
  if (auto sound = check_place(model.sensor.place, "sensor"); !sound) return sound;
  if (auto sound = within({{"sensor.lag (s)", model.sensor.lag_s, 2, 3600},
                           {"sensor.glow", model.sensor.glow, 0, 0.9},
                           {"sensor.shade", model.sensor.shade, 0, 0.9}});
      !sound)
    return sound;
  if (model.sensor.beside.size() > model.spots.size())
    return fail(ErrorKind::bad_input, "the sensor sits beside more spots than there are");
  for (const auto& setting : model.settings) {
    if (auto sound = check_setting(model, setting); !sound) return sound;
  }
  if (auto sound = check_kit(model, kit); !sound) return sound;
  return check_plan(model, plan);
}

}  // namespace pitwright::rehearse
