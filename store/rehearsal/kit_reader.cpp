#include <algorithm>
#include <optional>

#include <fmt/format.h>

#include "rehearsal/fields.h"
#include "rehearsal/numbers.h"
#include "rehearsal/plain_pit.h"

namespace pitwright::rehearsal {
namespace {

using documents::Reading;
using documents::TableReader;

const std::vector<std::string> role_names{"air", "dial", "outside", "wind", "drive", "set"};
constexpr std::array roles{Role::air,  Role::dial,  Role::outside,
                           Role::wind, Role::drive, Role::set};
const std::vector<std::string> unit_names{"F", "C"};

/// Index of the spot a key names; 0 and a mistake where there is none.
int spot_of(TableReader& keys, const rehearse::PitModel& model) {
  const auto name = keys.text("spot");
  if (!name) {
    keys.require("spot", "spot = \"left front\"");
    return 0;
  }
  const auto found = std::ranges::find(model.spots, *name, &Spot::name);
  if (found != model.spots.end()) return static_cast<int>(found - model.spots.begin());
  keys.wrong("spot", fmt::format("the pit has no spot '{}'", *name));
  return 0;
}

void read_trouble(Reading& reading, TableReader& outer, const rehearse::PitModel& model,
                  Thermometer& thermometer) {
  for (const auto* table : outer.tables("fault")) {
    TableReader keys(reading, *table, "[[rehearse.logger.thermometer.fault]]");
    rehearse::Fault fault;
    fault.from_s = number_of(keys, "from_s").value_or(0);
    fault.to_s = number_of(keys, "to_s").value_or(0);
    fault.frozen = keys.truth("frozen").value_or(false);
    fault.word = keys.text("word").value_or("");
    keys.finish();
    thermometer.faults.push_back(std::move(fault));
  }
  for (const auto* table : outer.tables("move")) {
    TableReader keys(reading, *table, "[[rehearse.logger.thermometer.move]]");
    rehearse::Move move;
    move.at_s = number_of(keys, "at_s").value_or(0);
    move.spot = spot_of(keys, model);
    keys.finish();
    thermometer.moves.push_back(move);
  }
}

Thermometer thermometer_of(Reading& reading, const documents::Table& table,
                           const rehearse::PitModel& model) {
  TableReader keys(reading, table, "[[rehearse.logger.thermometer]]");
  keys.require("channel", "channel = \"left\"");
  Thermometer thermometer;
  thermometer.channel = keys.text("channel").value_or("");
  if (const auto role = keys.word("role", role_names)) thermometer.role = roles[*role];
  if (thermometer.role == Role::air) thermometer.spot = spot_of(keys, model);
  read_fields(keys, thermometer, thermometer_fields);
  read_trouble(reading, keys, model, thermometer);
  keys.finish();
  return thermometer;
}

}  // namespace

void read_kit(Reading& reading, TableReader& outer, rehearse::Scenario& scenario) {
  for (const auto* table : outer.tables("logger")) {
    TableReader keys(reading, *table, "[[rehearse.logger]]");
    Logger logger;
    logger.name = keys.text("name").value_or("grate");
    if (const auto unit = keys.word("unit", unit_names))
      logger.scale = *unit == 0 ? Scale::fahrenheit : Scale::celsius;
    logger.timezone = keys.text("timezone").value_or("");
    read_fields(keys, logger, logger_fields);
    for (const auto* inner : keys.tables("thermometer"))
      logger.thermometers.push_back(thermometer_of(reading, *inner, scenario.model));
    // A logger without channels has one thermometer a spot and the dial.
    if (logger.thermometers.empty())
      logger.thermometers = rehearse::plain_kit(scenario.model).loggers[0].thermometers;
    keys.finish();
    scenario.kit.loggers.push_back(std::move(logger));
  }
}

}  // namespace pitwright::rehearsal
