#include "rehearsal/plain_pit.h"

#include <algorithm>

#include "numeric/random.h"
#include "rehearse/aim.h"
#include "rehearse/bodies.h"

namespace pitwright::rehearsal {
namespace {

// A stream of its own, so that the effects of a seed do not follow its weather.
constexpr std::uint64_t effects_stream = 100;

void add_setting(rehearse::PitModel& model, const std::string& name) {
  rehearse::Setting setting;
  setting.name = name;
  setting.lean_k.assign(model.spots.size(), 0.0);
  model.settings.push_back(std::move(setting));
}

/// One setting for each position of the first lever, named as the position; else A and B.
void put_plain_settings(rehearse::Scenario& scenario, std::uint64_t seed) {
  auto& model = scenario.model;
  const auto& levers = model.pit.adjustments;
  if (levers.empty() || levers[0].positions.size() < 2) {
    add_setting(model, "A");
    add_setting(model, "B");
  } else {
    for (const auto& position : levers[0].positions) {
      add_setting(model, position);
      model.settings.back().adjustments[levers[0].name] = position;
    }
  }
  numeric::Random random(seed, effects_stream);
  for (auto& setting : model.settings) {
    rehearse::Target target;
    target.setting = setting.name;
    for (std::size_t i = 0; i < model.spots.size(); ++i)
      target.run_k.push_back(rehearse::f_deg(6) * random.normal());
    target.level_c = model.set_c + rehearse::f_deg(6) * random.normal();
    scenario.targets.push_back(std::move(target));
  }
}

/// There and back again: A B C C B A.
void put_plain_plan(rehearse::Scenario& scenario) {
  std::vector<std::string> order;
  for (const auto& setting : scenario.model.settings) order.push_back(setting.name);
  const std::vector<std::string> back(order.rbegin(), order.rend());
  order.insert(order.end(), back.begin(), back.end());
  const double dwell_s = scenario.plan.stints.empty() ? 2100 : scenario.plan.stints[0].dwell_s;
  scenario.plan.stints.clear();
  for (const auto& name : order) scenario.plan.stints.push_back({name, dwell_s});
}

}  // namespace

void put_plain_spots(rehearse::PitModel& model) {
  auto grates = model.pit.grates;
  if (grates.empty()) grates.push_back({"grate", model.pit.height_m.value_or(0.5) / 2});
  const double width_m = model.pit.width_m.value_or(0.8);
  const double depth_m = model.pit.depth_m.value_or(0.5);
  const double height_m = model.pit.height_m.value_or(0.5);
  for (std::size_t g = 0; g < grates.size(); ++g) {
    const double usual_m =
        height_m * (static_cast<double>(g) + 1) / (static_cast<double>(grates.size()) + 1);
    for (const auto& [side, share] :
         {std::pair{"left", 0.2}, std::pair{"middle", 0.5}, std::pair{"right", 0.8}}) {
      rehearse::Spot spot;
      spot.name = grates.size() > 1 ? grates[g].name + " " + side : side;
      spot.grate = grates[g].name;
      spot.x_m = share * width_m;
      spot.y_m = depth_m / 2;
      spot.z_m = grates[g].height_m.value_or(usual_m);
      model.spots.push_back(std::move(spot));
    }
  }
}

void complete(rehearse::Scenario& scenario, std::uint64_t seed, bool has_fire) {
  auto& model = scenario.model;
  if (model.spots.empty()) {
    // No [rehearse] table at all: small errors of every kind, as a day has them.
    put_plain_spots(model);
    model.disturbance.drift_level_k = rehearse::f_deg(1.5);
    model.disturbance.drift_lay_k = rehearse::f_deg(0.7);
    model.disturbance.resetting_level_k = rehearse::f_deg(1);
    model.disturbance.resetting_lay_k = rehearse::f_deg(0.7);
  }
  if (model.settings.empty()) put_plain_settings(scenario, seed);
  if (!has_fire) model.fire = rehearse::pellet_relay(needed_heat_w(model, model.settings[0]));
  if (scenario.kit.loggers.empty()) scenario.kit = rehearse::plain_kit(model);
  if (scenario.plan.stints.empty()) put_plain_plan(scenario);
}

}  // namespace pitwright::rehearsal
