#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "rehearse/aim.h"
#include "rehearse/rehearse.h"

namespace pitwright::rehearse {

/// A pit of our own invention with its thermometers, its usual plan and its story.
struct Scenario {
  std::string id;    ///< "S1"
  std::string name;  ///< for the command line: "long-barrel"
  std::string story;
  PitModel model;
  Kit kit;
  Plan plan;
  std::vector<Target> targets;  ///< what its truth was aimed at
};

struct ScenarioName {
  std::string_view id, name, story;
};

/// All scenarios, in order.
std::vector<ScenarioName> scenario_names();

/// A scenario by id or name, its gains aimed.
/// Fails: not_found, naming the ones there are.
/// Cost:  some tens of truths.
Result<Scenario> make_scenario(std::string_view id_or_name);

Result<RehearsedBurn> rehearse(const Scenario& scenario, std::uint64_t seed,
                               const RehearseOptions& options = {});

/// Differences of temperature are thought of in degF here: kelvins of so many.
constexpr double f_deg(double fahrenheit_degrees) {
  return fahrenheit_degrees / 1.8;
}

// One maker a scenario, in scenarios_steel.cpp and scenarios_other.cpp.
Scenario long_barrel();
Scenario hopper_tray();
Scenario tall_cabinet();
Scenario clay_pot();
Scenario brick_room_early();
Scenario two_logger_drum();
Scenario gas_tray_bad_probes();
Scenario fouled_hopper();
Scenario twin_shelf_lids();
Scenario barrel_front();

// Parts that the makers share.
Scenario started(std::string id, std::string name, std::string story, std::string pit_name);
Spot spot_at(std::string name, std::string grate, double x_m, double y_m, double z_m);
void add_settings(PitModel& model, const std::vector<std::string>& names,
                  const std::string& adjustment, const std::vector<std::string>& positions);
std::vector<double> in_kelvins(std::vector<double> fahrenheit_degrees);

}  // namespace pitwright::rehearse
