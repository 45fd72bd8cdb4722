#include <algorithm>
#include <optional>
#include <sstream>

#include <fmt/format.h>

#include "documents/pit_document.h"
#include "documents/table_reader.h"
#include "documents/toml.h"
#include "rehearsal/fields.h"
#include "rehearsal/numbers.h"
#include "rehearsal/pit_file.h"
#include "rehearsal/plain_pit.h"
#include "units/parse.h"

namespace pitwright::rehearsal {
namespace {

using documents::Reading;
using documents::Table;
using documents::TableReader;

template <typename T, std::size_t n>
void read_table(Reading& reading, TableReader& outer, std::string_view key, T& value,
                const std::array<Field<T>, n>& fields) {
  for (const auto* table : outer.tables(key)) {
    TableReader keys(reading, *table, fmt::format("[rehearse.{}]", key));
    read_fields(keys, value, fields);
    keys.finish();
  }
}

void read_fire(Reading& reading, TableReader& outer, Fire& fire) {
  const std::vector<std::string> kinds(fire_kinds.begin(), fire_kinds.end());
  for (const auto* table : outer.tables("fire")) {
    TableReader keys(reading, *table, "[rehearse.fire]");
    if (const auto kind = keys.word("kind", kinds))
      fire.kind = static_cast<rehearse::FireKind>(*kind);
    read_fields(keys, fire, fire_fields);
    keys.finish();
  }
}

void read_spots(Reading& reading, TableReader& outer, rehearse::PitModel& model) {
  for (const auto* table : outer.tables("spot")) {
    TableReader keys(reading, *table, "[[rehearse.spot]]");
    keys.require("name", "name = \"left front\"");
    Spot spot;
    spot.name = keys.text("name").value_or("");
    spot.grate = keys.text("grate").value_or("");
    const auto grate = std::ranges::find(model.pit.grates, spot.grate, &Grate::name);
    if (grate != model.pit.grates.end()) spot.z_m = grate->height_m.value_or(0);
    read_fields(keys, spot, spot_fields);
    read_fields(keys, spot.place, place_fields);
    keys.finish();
    model.spots.push_back(std::move(spot));
  }
}

void read_sensor(Reading& reading, TableReader& outer, Sensor& sensor) {
  for (const auto* table : outer.tables("sensor")) {
    TableReader keys(reading, *table, "[rehearse.sensor]");
    read_fields(keys, sensor, sensor_fields);
    read_fields(keys, sensor.place, place_fields);
    if (const auto beside = numbers_of(keys, "beside")) sensor.beside = *beside;
    sensor.grate = keys.text("grate").value_or("");
    sensor.x_m = keys.length_m("x");
    sensor.y_m = keys.length_m("y");
    sensor.z_m = keys.length_m("z");
    keys.finish();
  }
}

/// Runs and level that are asked for, in degrees with their unit.
std::optional<rehearse::Target> target_of(Reading& reading, TableReader& keys,
                                          const std::string& setting, std::size_t spots) {
  rehearse::Target target;
  target.setting = setting;
  if (const auto level = keys.temperature("level")) target.level_c = level->celsius();
  if (const auto runs = keys.texts("runs")) {
    for (const auto& text : *runs) {
      const auto run = parse_temperature_delta(text, reading.unit);
      if (!run) keys.wrong("runs", run.error().what);
      target.run_k.push_back(run ? run->kelvins() : 0.0);
    }
    if (target.run_k.size() != spots)
      keys.wrong("runs", fmt::format("'runs' has {} for {} spots", target.run_k.size(), spots));
  }
  if (!target.level_c && target.run_k.empty()) return std::nullopt;
  return target;
}

void read_settings(Reading& reading, TableReader& outer, rehearse::Scenario& scenario) {
  const auto spots = scenario.model.spots.size();
  for (const auto* table : outer.tables("setting")) {
    TableReader keys(reading, *table, "[[rehearse.setting]]");
    keys.require("name", "name = \"A\"");
    Setting setting;
    setting.name = keys.text("name").value_or("");
    for (const auto* positions : keys.tables("adjustments")) {
      TableReader levers(reading, *positions, "adjustments");
      for (const auto& entry : positions->entries)
        setting.adjustments[entry.key] = levers.text(entry.key).value_or("");
      levers.finish();
    }
    setting.lean_k = numbers_of(keys, "lean_k").value_or(std::vector<double>(spots, 0.0));
    if (setting.lean_k.size() != spots)
      keys.wrong("lean_k",
                 fmt::format("'lean_k' has {} for {} spots", setting.lean_k.size(), spots));
    read_fields(keys, setting, setting_fields);
    if (auto target = target_of(reading, keys, setting.name, spots))
      scenario.targets.push_back(std::move(*target));
    keys.finish();
    scenario.model.settings.push_back(std::move(setting));
  }
}

void read_happenings(Reading& reading, TableReader& outer, Plan& plan) {
  for (const auto* table : outer.tables("lid")) {
    TableReader keys(reading, *table, "[[rehearse.lid]]");
    LidOpening lid;
    read_fields(keys, lid, lid_fields);
    lid.marked = keys.truth("marked").value_or(true);
    keys.finish();
    plan.lids.push_back(lid);
  }
  for (const auto* table : outer.tables("load")) {
    TableReader keys(reading, *table, "[[rehearse.load]]");
    ColdLoad load;
    read_fields(keys, load, load_fields);
    load.spot_share = numbers_of(keys, "spot_share").value_or(std::vector<double>{});
    keys.finish();
    plan.loads.push_back(std::move(load));
  }
  for (const auto* table : outer.tables("front")) {
    TableReader keys(reading, *table, "[rehearse.front]");
    plan.front.emplace();
    read_fields(keys, *plan.front, front_fields);
    keys.finish();
  }
}

void read_plan(Reading& reading, TableReader& keys, Plan& plan) {
  double dwell_s = 2100;
  if (const auto dwell = number_of(keys, "dwell_s")) dwell_s = *dwell;
  if (const auto dwell = keys.elapsed("dwell")) dwell_s = dwell->count();
  if (const auto order = keys.text("plan")) {
    std::istringstream words(*order);
    for (std::string word; words >> word;) plan.stints.push_back({word, dwell_s});
  }
  const std::vector<std::string> known(starts.begin(), starts.end());
  if (const auto start = keys.word("start", known))
    plan.start = static_cast<rehearse::Start>(*start);
  read_fields(keys, plan, plan_fields);
  read_happenings(reading, keys, plan);
}

void read_rehearse(Reading& reading, const Table& table, rehearse::Scenario& scenario) {
  TableReader keys(reading, table, "[rehearse]");
  auto& model = scenario.model;
  if (const auto excess = number_of(keys, "plate_excess_k")) model.plate_excess_k = *excess;
  read_fire(reading, keys, model.fire);
  read_table(reading, keys, "body", model.body, body_fields);
  read_table(reading, keys, "disturbance", model.disturbance, disturbance_fields);
  read_table(reading, keys, "weather", model.weather, weather_fields);
  read_spots(reading, keys, model);
  if (model.spots.empty()) put_plain_spots(model);
  read_sensor(reading, keys, model.sensor);
  read_settings(reading, keys, scenario);
  read_plan(reading, keys, scenario.plan);
  read_kit(reading, keys, scenario);
  keys.finish();
}

}  // namespace

Result<rehearse::Scenario> read_pit_file(const std::filesystem::path& path, std::uint64_t seed) {
  const auto table = documents::read_toml(path);
  if (!table) return std::unexpected(table.error());
  Reading reading{path.string(), {}, {}};
  rehearse::Scenario scenario;
  scenario.name = path.stem().string();
  auto& model = scenario.model;
  model.pit = documents::pit_of(reading, *table, "");
  if (model.pit.set_point) model.set_c = model.pit.set_point->celsius();
  if (const auto* unit = table->find("unit")) {
    const auto* letter = std::get_if<std::string>(&unit->value.of);
    if (letter) reading.unit = parse_scale(*letter);
  }
  const auto* rehearse_entry = table->find("rehearse");
  const auto* inner = rehearse_entry ? std::get_if<Table>(&rehearse_entry->value.of) : nullptr;
  if (rehearse_entry && !inner)
    reading.complain(rehearse_entry->place, "'rehearse' must be a table: [rehearse]");
  if (inner) read_rehearse(reading, *inner, scenario);
  if (reading.mistake) return std::unexpected(*reading.mistake);
  complete(scenario, seed, inner && inner->find("fire"));
  const auto sound = rehearse::check(model, scenario.kit, scenario.plan);
  if (!sound) return fail(sound.error().kind, "{}: {}", path.string(), sound.error().what);
  const auto aimed = rehearse::aim(model, scenario.targets);
  if (!aimed.met)
    return fail(ErrorKind::bad_input,
                "{}: levels or runs asked for cannot be reached: {:.1f} K short", path.string(),
                aimed.worst_k);
  return scenario;
}

}  // namespace pitwright::rehearsal
