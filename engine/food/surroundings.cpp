#include "food/surroundings.h"

#include <algorithm>
#include <cmath>

#include "food/air.h"

namespace pitwright::food {

namespace {

Result<void> check_track(const Track& track, double low, double high, const std::string& what) {
  if (track.values.empty()) return fail(ErrorKind::bad_input, "{} has no value", what);
  const bool constant = track.values.size() == 1 && track.times_s.empty();
  if (!constant && track.times_s.size() != track.values.size()) {
    return fail(ErrorKind::bad_input, "{} has {} times for {} values", what, track.times_s.size(),
                track.values.size());
  }
  for (std::size_t i = 0; i < track.times_s.size(); ++i) {
    if (!std::isfinite(track.times_s[i]) || (i > 0 && !(track.times_s[i] > track.times_s[i - 1]))) {
      return fail(ErrorKind::bad_input, "the times of {} must rise", what);
    }
  }
  for (const double v : track.values) {
    if (!(v >= low && v <= high)) {
      return fail(ErrorKind::bad_input, "{} is {}; it must lie between {} and {}", what, v, low,
                  high);
    }
  }
  return {};
}

Result<void> check_air(const Air& air, const std::string& where) {
  auto ok = check_track(air.air_c, -60, 350, "the air temperature " + where);
  if (ok && air.radiant_c) ok = check_track(*air.radiant_c, -60, 600, "what is seen " + where);
  if (ok) ok = check_track(air.humidity, 0, 5, "the air's water " + where);
  if (ok) ok = check_track(air.h_w_m2k, 0, 500, "the heat transfer " + where);
  if (ok && !(air.emissivity >= 0 && air.emissivity <= 1)) {
    return fail(ErrorKind::bad_input, "the emissivity {} is {}; it must lie between 0 and 1", where,
                air.emissivity);
  }
  return ok;
}

}  // namespace

double Track::at(double t_s) const {
  if (values.size() == 1) return values[0];
  const auto after = std::ranges::upper_bound(times_s, t_s);
  if (after == times_s.begin()) return values.front();
  if (after == times_s.end()) return values.back();
  const auto i = static_cast<std::size_t>(after - times_s.begin());
  const double share = (t_s - times_s[i - 1]) / (times_s[i] - times_s[i - 1]);
  return values[i - 1] + share * (values[i] - values[i - 1]);
}

Wrap wrap_of(Wrapping wrapping) {
  switch (wrapping) {
    case Wrapping::paper:
      return {3000, std::nullopt};
    case Wrapping::foil:
      return {1e5, 0.07};
    default:
      return {};
  }
}

std::array<Air, sides> all_around(const Air& air) {
  std::array<Air, sides> all;
  all.fill(air);
  return all;
}

Result<void> check(const Schedule& schedule) {
  if (schedule.stages.empty()) return fail(ErrorKind::bad_input, "a cook needs at least one stage");
  if (!(schedule.pressure_pa > 4e4 && schedule.pressure_pa < 1.2e5)) {
    return fail(ErrorKind::bad_input, "air pressure of {} Pa: it must lie between 40 and 120 kPa",
                schedule.pressure_pa);
  }
  for (std::size_t i = 0; i < schedule.stages.size(); ++i) {
    const auto& stage = schedule.stages[i];
    const auto name = stage.name.empty() ? fmt::format("in stage {}", i + 1)
                                         : fmt::format("in stage '{}'", stage.name);
    for (const auto& air : stage.air) {
      if (const auto ok = check_air(air, name); !ok) return ok;
    }
    const bool last = i + 1 == schedule.stages.size();
    if (!last && !stage.ends_after_s && !stage.ends_at_core_c) {
      return fail(ErrorKind::bad_input, "nothing ends what happens {}, so the next never begins",
                  name);
    }
    if ((stage.ends_after_s && !std::isfinite(*stage.ends_after_s)) ||
        (stage.ends_at_core_c && !std::isfinite(*stage.ends_at_core_c))) {
      return fail(ErrorKind::bad_input, "the end of what happens {} is not a number", name);
    }
    const auto& wrap = stage.wrap;
    if (!(wrap.vapor_resistance_s_m >= 0 && wrap.vapor_resistance_s_m <= 1e9) ||
        (wrap.emissivity && !(*wrap.emissivity >= 0 && *wrap.emissivity <= 1))) {
      return fail(ErrorKind::bad_input, "the wrap {} needs a resistance from 0 to 1e9 s/m", name);
    }
  }
  return {};
}

Result<void> check(const Surface& s) {
  if (!(s.wetness >= 0 && s.wetness <= 1)) {
    return fail(ErrorKind::bad_input, "a wetness of {}: it must lie between 0 and 1", s.wetness);
  }
  if (!(s.water_activity > 0 && s.water_activity <= 1)) {
    return fail(ErrorKind::bad_input, "a water activity of {}: it must lie above 0, up to 1",
                s.water_activity);
  }
  if (!(s.crust_diffusivity_m2_s >= 1e-7 && s.crust_diffusivity_m2_s <= 1)) {
    return fail(ErrorKind::bad_input,
                "a crust's diffusivity of {} m2/s: it must lie between 1e-7 and 1",
                s.crust_diffusivity_m2_s);
  }
  if (!(s.drip_lag_s >= 1 && s.drip_lag_s <= 1e6) ||
      !(s.release_lag_s >= 1 && s.release_lag_s <= 1e6) ||
      !(s.film_kg_m2 >= 0 && s.film_kg_m2 < 10)) {
    return fail(ErrorKind::bad_input,
                "a surface needs lags of 1 s or more and a film of 0 to 10 kg/m2");
  }
  return {};
}

Outside outside(const Stage& stage, int side, double t_s, double pressure_pa) {
  const auto& air = stage.air[static_cast<std::size_t>(side)];
  Outside o;
  o.air_c = air.air_c.at(t_s);
  const double seen_k = (air.radiant_c ? air.radiant_c->at(t_s) : o.air_c) + 273.15;
  o.radiant_k4 = seen_k * seen_k * seen_k * seen_k;
  o.h = air.h_w_m2k.at(t_s);
  o.emissivity = stage.wrap.emissivity.value_or(air.emissivity);
  o.vapor_kg_m3 = vapor_density(air.humidity.at(t_s), o.air_c, pressure_pa);
  o.free_transfer = mass_transfer(o.h, pressure_pa);
  o.wrap_resistance = stage.wrap.vapor_resistance_s_m;
  return o;
}

}  // namespace pitwright::food
