#include "documents/rollcall_document.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "documents/sensor_reader.h"
#include "documents/table_reader.h"
#include "documents/toml.h"
#include "documents/written_readings.h"
#include "thermometer/water.h"

namespace pitwright::documents {
namespace {

using thermometer::Candidate;
using thermometer::Place;

const std::vector<std::string> scale_names{"F", "C"};

// Half widths of what the places themselves leave open [K]; see docs/methods/rollcall.md.
// Common practice, no source: crushed ice packed with water and stirred; water at a full boil, the
// tip a few cm deep (5 cm of water are 0.14 K), tap water; probes tied into one bundle.
constexpr double ice_k = 0.1, boil_k = 0.3, cold_k = 0.2, hot_k = 1.0;
constexpr double weather_pa = 2000.0;   ///< +- at 95 %, about the standard atmosphere
constexpr double barometer_pa = 200.0;  ///< half width, of a station pressure that was read off
const double root_3 = std::sqrt(3.0);

/// A half width given at a place, or its default.
double half_width(TableReader* keys, double usual_k) {
  if (keys == nullptr) return usual_k;
  const auto told = keys->difference("uncertainty");
  if (told && told->kelvins() < 0.0) {
    keys->wrong("uncertainty", "'uncertainty' is a size; it cannot be negative");
  }
  constexpr double largest_k = 30.0;
  if (told && told->kelvins() > largest_k) {
    keys->wrong("uncertainty", "an 'uncertainty' of more than 30 C checks nothing");
    return usual_k;
  }
  return told ? std::abs(told->kelvins()) : usual_k;
}

/// Standard uncertainty of a half width; never so small that one place outweighs all others.
double standard_of(double half_k) {
  constexpr double least_k = 0.001;
  return std::max(least_k, half_k / root_3);
}

const Table* table_at(TableReader& root, std::string_view key) {
  const auto tables = root.tables(key);
  if (tables.size() > 1) root.wrong(key, fmt::format("'{}' may stand once", key));
  return tables.empty() ? nullptr : tables.front();
}

void read_boil(Reading& reading, const Table& table, RollCallDocument& document) {
  TableReader keys(reading, table, "[boil]");
  BoilSpec boil;
  boil.altitude_m = keys.length_m("altitude");
  boil.pressure_pa = keys.pressure_pa("pressure");
  if (boil.altitude_m && boil.pressure_pa) {
    keys.wrong("altitude", "give 'altitude' or the station 'pressure', not both");
  }
  if (keys.value("altitude") == nullptr && keys.value("pressure") == nullptr) {
    keys.wrong("altitude",
               "[boil] needs 'altitude', such as \"5280 ft\", or the station 'pressure', such as "
               "\"840 hPa\" (as a barometer on the spot shows it, not reduced to the sea)");
  }
  if (boil.altitude_m && (*boil.altitude_m < -500.0 || *boil.altitude_m > 6000.0)) {
    keys.wrong("altitude", "'altitude' lies between -500 m and 6000 m");
    boil.altitude_m.reset();
  }
  if (boil.pressure_pa && (*boil.pressure_pa < 45e3 || *boil.pressure_pa > 110e3)) {
    keys.wrong("pressure", "'pressure' of the air lies between 450 and 1100 hPa");
    boil.pressure_pa.reset();
  }
  const double half_k = half_width(&keys, boil_k);
  keys.finish();
  const double pa =
      boil.pressure_pa.value_or(thermometer::standard_pressure_pa(boil.altitude_m.value_or(0.0)));
  boil.boils_c = thermometer::boiling_point_c(pa);
  const double pressure_u = boil.pressure_pa ? barometer_pa / root_3 : weather_pa / 1.959964;
  const double k_a_pascal =
      (thermometer::boiling_point_c(pa + 500.0) - thermometer::boiling_point_c(pa - 500.0)) /
      1000.0;
  document.conditions.boil = thermometer::FixedPoint{
      boil.boils_c, std::hypot(standard_of(half_k), pressure_u * k_a_pascal)};
  document.boil = boil;
}

void read_places(Reading& reading, TableReader& root, RollCallDocument& document) {
  double ice = ice_k, cold = cold_k, hot = hot_k;
  for (const auto& [key, half] :
       {std::pair<std::string_view, double*>{"ice", &ice}, {"cold", &cold}, {"hot", &hot}}) {
    const auto* table = table_at(root, key);
    if (table == nullptr) continue;
    const auto label = fmt::format("[{}]", key);
    TableReader keys(reading, *table, label);
    *half = half_width(&keys, *half);
    keys.finish();
  }
  if (const auto* boil = table_at(root, "boil")) read_boil(reading, *boil, document);
  const auto pa =
      document.boil ? thermometer::saturation_pressure_pa(document.boil->boils_c) : 101325.0;
  document.conditions.ice = thermometer::FixedPoint{thermometer::ice_point_c(pa), standard_of(ice)};
  document.conditions.cold_uneven_k = standard_of(cold);
  document.conditions.hot_uneven_k = standard_of(hot);
}

void read_probe(Reading& reading, const Table& table, RollCallDocument& document, Steps& steps) {
  TableReader keys(reading, table, "[[probe]]");
  keys.require("name", "name = \"A1\", as burn.toml calls the channel or the thermometer");
  Candidate probe;
  probe.name = keys.text("name").value_or("");
  const auto sensor = sensor_of(reading, keys);
  std::vector<Written> all;
  for (const Place place : thermometer::all_places) {
    const auto key = name_of(place);
    const auto written = readings_of(reading, keys, key, sensor);
    if (place == Place::boil && keys.value(key) != nullptr && !document.boil) {
      keys.wrong(key,
                 "the temperature of boiling water depends on the air pressure: say where in a "
                 "table [boil] with altitude = \"5280 ft\" or pressure = \"840 hPa\"");
    }
    for (const auto& one : written) {
      probe.readings[static_cast<std::size_t>(place)].push_back(one.celsius);
      all.push_back(one);
    }
  }
  if (all.empty() && !sensor.is_broken) {
    keys.wrong("name",
               "this thermometer has no reading: write at least one of 'ice', 'boil', "
               "'cold' and 'hot'");
  }
  probe.resolution_k = resolution_of(keys, sensor, document.unit, all, probe.name, steps);
  for (const auto& other : document.probes) {
    if (other.name == probe.name)
      keys.wrong("name", fmt::format("two thermometers are named '{}'", probe.name));
  }
  keys.finish();
  document.probes.push_back(std::move(probe));
  document.sensors.push_back(sensor.spec);
}

/// In a bundle the same index is the same moment for all.
void check_rounds(Reading& reading, const std::vector<const Table*>& tables,
                  const RollCallDocument& document) {
  for (const Place place : {Place::cold, Place::hot}) {
    const auto p = static_cast<std::size_t>(place);
    const Candidate* first = nullptr;
    for (std::size_t i = 0; i < document.probes.size(); ++i) {
      const auto& probe = document.probes[i];
      if (probe.readings[p].empty()) continue;
      if (first == nullptr) first = &probe;
      if (probe.readings[p].size() == first->readings[p].size()) continue;
      const auto* entry = tables[i]->find(name_of(place));
      reading.complain(
          entry != nullptr ? entry->value.place : tables[i]->place,
          fmt::format("'{}' of '{}' has {} readings, that of '{}' {}: in a bundle all are read in "
                      "the same rounds; write nan where one was missed",
                      name_of(place), probe.name, probe.readings[p].size(), first->name,
                      first->readings[p].size()));
    }
  }
}

void read_head(Reading& reading, TableReader& root, RollCallDocument& document) {
  document.title = root.text("title").value_or("");
  document.by = root.text("by").value_or("");
  root.require("unit", "unit = \"F\"");
  if (const auto unit = root.word("unit", scale_names)) {
    document.unit = *unit == 0 ? Scale::fahrenheit : Scale::celsius;
  }
  reading.unit = document.unit;
  document.date = root.date("date");
  if (const auto at = root.temperature("used_at")) {
    if (at->celsius() < -20.0 || at->celsius() > 500.0)
      root.wrong("used_at", "'used_at' is the heat you cook at, between 0 and 900 F");
    document.conditions.used_at_c = at->celsius();
  } else {
    const bool celsius = document.unit == Scale::celsius;
    document.conditions.used_at_c = (celsius ? degC(120) : degF(250)).celsius();
    document.assumed.push_back(
        fmt::format("the thermometers will be used at {}, where nothing is "
                    "said ('used_at')",
                    celsius ? "120 C" : "250 F"));
  }
  if (const auto accept = root.difference("accept")) {
    if (accept->kelvins() <= 0.0) root.wrong("accept", "'accept' must be above zero");
    document.conditions.accept_k = accept->kelvins();
  }
}

Result<RollCallDocument> roll_call_of(const Table& table, const std::filesystem::path& path) {
  Reading reading{path.string(), {}, {}};
  TableReader root(reading, table, "");
  RollCallDocument document;
  document.path = path;
  read_head(reading, root, document);
  read_places(reading, root, document);
  root.require("probe", "a table [[probe]] with name = \"A1\" and ice = [33, 33, 32]");
  const auto tables = root.tables("probe");
  Steps steps;
  for (const auto* probe : tables) read_probe(reading, *probe, document, steps);
  for (const auto& [step, names] : steps) {
    document.assumed.push_back(
        fmt::format("displays with steps of {:g} {}, by what they showed: {}", step,
                    document.unit == Scale::celsius ? "C" : "F", fmt::join(names, ", ")));
  }
  root.finish();
  check_rounds(reading, tables, document);
  if (reading.mistake) return std::unexpected(*reading.mistake);
  return document;
}

}  // namespace

Result<RollCallDocument> read_roll_call(const std::filesystem::path& path) {
  const auto table = read_toml(path);
  if (!table) return std::unexpected(table.error());
  return roll_call_of(*table, path);
}

Result<RollCallDocument> parse_roll_call(std::string_view text, const std::filesystem::path& path) {
  const auto table = parse_toml(text, path.string());
  if (!table) return std::unexpected(table.error());
  return roll_call_of(*table, path);
}

}  // namespace pitwright::documents
