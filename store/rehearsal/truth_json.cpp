#include <cmath>

#include <nlohmann/json.hpp>

#include "rehearsal/burn_files.h"
#include "rehearsal/toml_text.h"

namespace pitwright::rehearsal {
namespace {

using Json = nlohmann::ordered_json;
using rehearse::SettingTruth;
using rehearse::TrueSwing;

/// Temperatures to a thousandth, so that a file does not change with the last bits.
double tidy(double value) {
  return std::round(value * 1000) / 1000;
}

struct In {
  Scale scale;
  double point(double c) const { return tidy(degC(c).in(scale)); }
  double difference(double k) const { return tidy(TemperatureDelta::from_kelvins(k).in(scale)); }
};

Json swing_json(const TrueSwing& swing, In in) {
  Json json;
  json["period_s"] = swing.period_s ? Json(tidy(*swing.period_s)) : Json();
  json["size"] = in.difference(swing.size_k);
  return json;
}

Json setting_json(const rehearse::Truth& truth, const SettingTruth& s, In in) {
  Json json;
  json["setting"] = s.setting;
  json["level"] = in.point(s.level_c);
  for (std::size_t i = 0; i < truth.spots.size(); ++i) {
    json["spots"].push_back({{"spot", truth.spots[i]},
                             {"temperature", in.point(s.spot_c[i])},
                             {"runs", in.difference(s.run_k[i])}});
  }
  constexpr std::array names{"left-right", "front-back", "top-bottom"};
  for (std::size_t axis = 0; axis < 3; ++axis) {
    if (s.tilt_k[axis]) json["tilts"][names[axis]] = in.difference(*s.tilt_k[axis]);
  }
  json["spread"] = in.difference(s.spread_k);
  json["dial_gap"] = in.difference(s.dial_gap_k);
  json["swing"] = swing_json(s.swing, in);
  json["dial_swing"] = swing_json(s.dial_swing, in);
  json["heat_w"] = tidy(s.heat_w);
  return json;
}

}  // namespace

std::string truth_json(const rehearse::RehearsedBurn& made, const WriteOptions& options) {
  const In in{options.scale};
  Json json;
  json["pit"] = made.burn.pit.name;
  json["seed"] = options.seed;
  json["unit"] = scale_letter(options.scale);
  json["meaning"] =
      "Long-run means per setting: the pit soaked, on the weather the burn began with, gusts, "
      "eddies, "
      "drift, re-setting errors and the scatter of hands off, over whole swings. No probe error.";
  for (const auto& setting : made.truth.settings)
    json["settings"].push_back(setting_json(made.truth, setting, in));
  for (std::size_t i = 0; i < made.resettings.size(); ++i) {
    Json resetting;
    resetting["stint"] = i;
    resetting["level"] = in.difference(made.resettings[i].level_k);
    for (const double lean_k : made.resettings[i].lean_k)
      resetting["leans"].push_back(in.difference(lean_k));
    json["resettings"].push_back(std::move(resetting));
  }
  for (const auto& record : made.logs) {
    json["clocks"].push_back({{"file", record.logger.name + ".csv"},
                              {"ahead_s", record.logger.clock_ahead_s},
                              {"drift_s_per_h", record.logger.clock_drift_s_per_h},
                              {"timezone", record.logger.timezone}});
  }
  json["fuel_mj"] = tidy(made.fuel_j / 1e6);
  return json.dump(2) + "\n";
}

}  // namespace pitwright::rehearsal
