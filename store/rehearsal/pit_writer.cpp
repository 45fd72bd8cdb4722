#include <cmath>

#include <fmt/format.h>

#include "rehearsal/burn_files.h"
#include "rehearsal/fields.h"
#include "rehearsal/pit_file.h"
#include "rehearsal/toml_text.h"

namespace pitwright::rehearsal {
namespace {

/// A number that reads back as the same bits, and as a float where TOML minds.
std::string number(double value) {
  if (std::isinf(value)) return value > 0 ? "inf" : "-inf";
  return fmt::format("{}", value);
}

std::string numbers(const std::vector<double>& values) {
  std::string out = "[";
  for (const double v : values) out += (out.size() > 1 ? ", " : "") + number(v);
  return out + "]";
}

/// Every field that differs from its default.
template <typename T, std::size_t n>
void add_fields(const T& value, const T& usual, const std::array<Field<T>, n>& fields,
                std::string& out) {
  for (const auto& field : fields) {
    if (value.*field.member == usual.*field.member) continue;
    out += fmt::format("{} = {}\n", field.key, number(value.*field.member));
  }
}

template <typename T, std::size_t n>
void add_table(std::string_view name, const T& value, const std::array<Field<T>, n>& fields,
               std::string& out) {
  out += fmt::format("\n[rehearse.{}]\n", name);
  add_fields(value, T{}, fields, out);
}

void add_plan(const Plan& plan, std::string& out) {
  std::string names;
  for (const auto& stint : plan.stints) names += (names.empty() ? "" : " ") + stint.setting;
  out += fmt::format("plan = {}\n", toml_string(names));
  if (!plan.stints.empty()) out += fmt::format("dwell_s = {}\n", number(plan.stints[0].dwell_s));
  if (plan.start != rehearse::Start::soaked)
    out += fmt::format("start = \"{}\"\n", starts[static_cast<std::size_t>(plan.start)]);
  add_fields(plan, Plan{}, plan_fields, out);
}

void add_spots_and_sensor(const rehearse::PitModel& model, std::string& out) {
  for (const auto& spot : model.spots) {
    out += fmt::format("\n[[rehearse.spot]]\nname = {}\n", toml_string(spot.name));
    if (!spot.grate.empty()) out += fmt::format("grate = {}\n", toml_string(spot.grate));
    for (const auto& field : spot_fields)
      out += fmt::format("{} = {}\n", field.key, number(spot.*field.member));
    add_fields(spot.place, Place{}, place_fields, out);
  }
  out += "\n[rehearse.sensor]\n";
  if (!model.sensor.grate.empty())
    out += fmt::format("grate = {}\n", toml_string(model.sensor.grate));
  if (model.sensor.x_m) out += fmt::format("x = {}\n", length_text(*model.sensor.x_m));
  if (model.sensor.y_m) out += fmt::format("y = {}\n", length_text(*model.sensor.y_m));
  if (model.sensor.z_m) out += fmt::format("z = {}\n", length_text(*model.sensor.z_m));
  add_fields(model.sensor, Sensor{}, sensor_fields, out);
  add_fields(model.sensor.place, Sensor{}.place, place_fields, out);
  if (!model.sensor.beside.empty())
    out += fmt::format("beside = {}\n", numbers(model.sensor.beside));
}

void add_settings(const rehearse::PitModel& model, std::string& out) {
  for (const auto& setting : model.settings) {
    out += fmt::format("\n[[rehearse.setting]]\nname = {}\n", toml_string(setting.name));
    if (!setting.adjustments.empty()) {
      std::string positions;
      for (const auto& [lever, position] : setting.adjustments) {
        positions += fmt::format("{}{} = {}", positions.empty() ? "" : ", ", toml_string(lever),
                                 toml_string(position));
      }
      out += fmt::format("adjustments = {{ {} }}\n", positions);
    }
    out += fmt::format("lean_k = {}\n", numbers(setting.lean_k));
    add_fields(setting, Setting{}, setting_fields, out);
  }
}

void add_thermometer(const rehearse::PitModel& model, const Thermometer& thermometer,
                     std::string& out) {
  out += fmt::format("\n[[rehearse.logger.thermometer]]\nchannel = {}\n",
                     toml_string(thermometer.channel));
  if (thermometer.role != Role::air) {
    out += fmt::format("role = \"{}\"\n", name_of(thermometer.role));
  } else {
    const auto& spot = model.spots[static_cast<std::size_t>(thermometer.spot)];
    out += fmt::format("spot = {}\n", toml_string(spot.name));
  }
  add_fields(thermometer, Thermometer{}, thermometer_fields, out);
  for (const auto& fault : thermometer.faults) {
    out += fmt::format("[[rehearse.logger.thermometer.fault]]\nfrom_s = {}\nto_s = {}\n",
                       number(fault.from_s), number(fault.to_s));
    if (fault.frozen) out += "frozen = true\n";
    if (!fault.word.empty()) out += fmt::format("word = {}\n", toml_string(fault.word));
  }
  for (const auto& move : thermometer.moves) {
    out += fmt::format("[[rehearse.logger.thermometer.move]]\nat_s = {}\nspot = {}\n",
                       number(move.at_s),
                       toml_string(model.spots[static_cast<std::size_t>(move.spot)].name));
  }
}

void add_kit(const rehearse::Scenario& scenario, std::string& out) {
  for (const auto& logger : scenario.kit.loggers) {
    out += fmt::format("\n[[rehearse.logger]]\nname = {}\n", toml_string(logger.name));
    if (logger.scale == Scale::celsius) out += "unit = \"C\"\n";
    if (!logger.timezone.empty())
      out += fmt::format("timezone = {}\n", toml_string(logger.timezone));
    add_fields(logger, Logger{}, logger_fields, out);
    for (const auto& thermometer : logger.thermometers)
      add_thermometer(scenario.model, thermometer, out);
  }
}

void add_happenings(const Plan& plan, std::string& out) {
  for (const auto& lid : plan.lids) {
    out += "\n[[rehearse.lid]]\n";
    add_fields(lid, LidOpening{-1, -1, true}, lid_fields, out);
    if (!lid.marked) out += "marked = false\n";
  }
  for (const auto& load : plan.loads) {
    out += "\n[[rehearse.load]]\n";
    add_fields(load, ColdLoad{}, load_fields, out);
    out += fmt::format("spot_share = {}\n", numbers(load.spot_share));
  }
  if (plan.front) add_table("front", *plan.front, front_fields, out);
}

}  // namespace

std::string pit_file_text(const rehearse::Scenario& scenario, Scale scale) {
  const auto& model = scenario.model;
  Pit pit = model.pit;
  pit.set_point = degC(model.set_c);
  std::string out = fmt::format("# {}. Invented; no such pit.\n", scenario.story);
  out += pit_toml(pit, scale);
  out += fmt::format("\n[rehearse]\nplate_excess_k = {}\n", number(model.plate_excess_k));
  add_plan(scenario.plan, out);
  out += fmt::format("\n[rehearse.fire]\nkind = \"{}\"\n",
                     fire_kinds[static_cast<std::size_t>(model.fire.kind)]);
  add_fields(model.fire, Fire{}, fire_fields, out);
  add_table("body", model.body, body_fields, out);
  add_table("disturbance", model.disturbance, disturbance_fields, out);
  add_table("weather", model.weather, weather_fields, out);
  add_spots_and_sensor(model, out);
  add_settings(model, out);
  add_kit(scenario, out);
  add_happenings(scenario.plan, out);
  return out;
}

}  // namespace pitwright::rehearsal
