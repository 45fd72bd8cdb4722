#include "rehearse/scenarios.h"

#include <algorithm>
#include <array>

#include "rehearse/bodies.h"

namespace pitwright::rehearse {
namespace {

struct Entry {
  ScenarioName name;
  Scenario (*make)();
};

constexpr std::array entries{
    Entry{{"S1", "long-barrel", "Long barrel, rear baffle in, mid and out, a gusty afternoon"},
          long_barrel},
    Entry{{"S2", "hopper-tray", "Hopper-fed box, drip tray moved an inch"}, hopper_tray},
    Entry{{"S3", "tall-cabinet", "Tall cabinet, stack damper half and full"}, tall_cabinet},
    Entry{{"S4", "clay-pot", "Clay pot, wind cowl turned: nothing changes"}, clay_pot},
    Entry{{"S5", "brick-room", "Brick room, started before it was soaked"}, brick_room_early},
    Entry{{"S6", "two-loggers", "Upright drum with two loggers that disagree about the time"},
          two_logger_drum},
    Entry{{"S7", "gas-tray", "Gas tray with bad probes and a swap"}, gas_tray_bad_probes},
    Entry{{"S8", "fouled-sensor", "Hopper-fed box before and after its sensor was wiped"},
          fouled_hopper},
    Entry{{"S9", "twin-shelf", "Two shelves, the door opened twice"}, twin_shelf_lids},
    Entry{{"S10", "barrel-front", "Long barrel while a weather front passes"}, barrel_front},
};

}  // namespace

std::vector<ScenarioName> scenario_names() {
  std::vector<ScenarioName> names;
  for (const auto& entry : entries) names.push_back(entry.name);
  return names;
}

Result<Scenario> make_scenario(std::string_view id_or_name) {
  const auto found = std::ranges::find_if(entries, [&](const Entry& e) {
    return e.name.id == id_or_name || e.name.name == id_or_name;
  });
  if (found == entries.end()) {
    std::string known;
    for (const auto& e : entries) known += (known.empty() ? "" : ", ") + std::string(e.name.name);
    return fail(ErrorKind::not_found, "there is no built-in pit '{}'; there are {}", id_or_name,
                known);
  }
  Scenario scenario = found->make();
  aim(scenario.model, scenario.targets);
  return scenario;
}

Result<RehearsedBurn> rehearse(const Scenario& scenario, std::uint64_t seed,
                               const RehearseOptions& options) {
  return rehearse(scenario.model, scenario.kit, scenario.plan, seed, options);
}

Scenario started(std::string id, std::string name, std::string story, std::string pit_name) {
  Scenario s;
  s.id = std::move(id);
  s.name = std::move(name);
  s.story = std::move(story);
  s.model.pit.name = std::move(pit_name);
  return s;
}

Spot spot_at(std::string name, std::string grate, double x_m, double y_m, double z_m) {
  Spot spot;
  spot.name = std::move(name);
  spot.grate = std::move(grate);
  spot.x_m = x_m;
  spot.y_m = y_m;
  spot.z_m = z_m;
  return spot;
}

void add_settings(PitModel& model, const std::vector<std::string>& names,
                  const std::string& adjustment, const std::vector<std::string>& positions) {
  for (std::size_t i = 0; i < names.size(); ++i) {
    Setting setting;
    setting.name = names[i];
    setting.adjustments[adjustment] = positions[i];
    setting.lean_k.assign(model.spots.size(), 0.0);
    model.settings.push_back(std::move(setting));
  }
  Adjustment lever;
  lever.name = adjustment;
  lever.positions = positions;
  model.pit.adjustments.push_back(std::move(lever));
}

std::vector<double> in_kelvins(std::vector<double> fahrenheit_degrees) {
  for (double& v : fahrenheit_degrees) v = f_deg(v);
  return fahrenheit_degrees;
}

}  // namespace pitwright::rehearse
