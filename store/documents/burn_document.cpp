#include "documents/burn_document.h"

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "documents/burn_logs.h"
#include "documents/nearest.h"
#include "documents/pit_document.h"
#include "documents/table_reader.h"
#include "documents/toml.h"

namespace pitwright::documents {
namespace {

const std::vector<std::string> scale_names{"F", "C"};
constexpr std::array all_roles{Role::air,  Role::dial,  Role::food, Role::outside,
                               Role::wind, Role::drive, Role::set};
constexpr std::array all_events{EventKind::lid,  EventKind::split, EventKind::fuel, EventKind::gust,
                                EventKind::rain, EventKind::moved, EventKind::note};

template <typename Kinds>
std::vector<std::string> names_of(const Kinds& kinds) {
  std::vector<std::string> names;
  names.reserve(kinds.size());
  for (const auto kind : kinds) names.emplace_back(name_of(kind));
  return names;
}

/// `correction` is a difference, or the points of a correction that depends on the reading.
void read_correction(Reading& reading, TableReader& keys, ProbeSpec& probe) {
  const auto* value = keys.value("correction");
  if (value == nullptr) return;
  if (!std::holds_alternative<Array>(value->of) && !std::holds_alternative<Table>(value->of)) {
    probe.correction = keys.difference("correction");
    return;
  }
  for (const auto* table : keys.tables("correction")) {
    TableReader point(reading, *table, "a point of 'correction'");
    point.require("at", "at = \"212 F\", what the thermometer shows");
    point.require("add", "add = \"-1.5 F\"");
    const auto at = point.temperature("at");
    const auto add = point.difference("add");
    const auto uncertainty = point.difference("uncertainty");
    if (uncertainty && uncertainty->kelvins() < 0.0)
      point.wrong("uncertainty", "'uncertainty' is a size; it cannot be negative");
    point.finish();
    if (!at || !add) continue;
    CorrectionPoint one{at->celsius(), add->kelvins(), std::nullopt};
    if (uncertainty) one.uncertainty_k = uncertainty->kelvins();
    probe.correction_points.push_back(one);
  }
  auto& points = probe.correction_points;
  std::ranges::sort(points, {}, &CorrectionPoint::at_c);
  constexpr double apart_k = 0.5;
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (points[i].at_c - points[i - 1].at_c < apart_k)
      keys.wrong("correction", "two points of 'correction' are at the same reading");
  }
}

ProbeSpec probe_of(Reading& reading, const Table& table) {
  TableReader keys(reading, table, "[[probe]]");
  ProbeSpec probe;
  probe.place = table.place;
  keys.require("channel", "channel = \"A1\"");
  probe.channel = keys.text("channel").value_or("");
  probe.channel_place = keys.place("channel");
  if (const auto role = keys.word("role", names_of(all_roles))) probe.role = all_roles[*role];
  probe.spot = keys.text("spot").value_or("");
  probe.grate = keys.text("grate").value_or("");
  probe.grate_place = keys.place("grate");
  probe.piece = keys.text("piece").value_or("");
  probe.x_m = keys.length_m("x");
  probe.y_m = keys.length_m("y");
  probe.z_m = keys.length_m("z");
  read_correction(reading, keys, probe);
  probe.uncertainty = keys.difference("uncertainty");
  if (probe.uncertainty && probe.uncertainty->kelvins() < 0.0) {
    keys.wrong("uncertainty", "'uncertainty' is a size; it cannot be negative");
  }
  probe.checked = keys.date("checked");
  probe.thermometer = keys.text("thermometer").value_or("");
  probe.thermometer_place = keys.place("thermometer");
  probe.from = keys.time("from");
  probe.to = keys.time("to");
  if (probe.role == Role::food && probe.piece.empty()) {
    keys.require("piece", "piece = \"shoulder 1\", the name of its [[piece]]");
  }
  if (probe.role != Role::food && !probe.piece.empty()) {
    keys.wrong("piece", "'piece' goes with role = \"food\"");
  }
  keys.finish();
  return probe;
}

/// A position as written: a text, a number, true or false.
std::string position_text(const Value& value) {
  if (const auto* text = std::get_if<std::string>(&value.of)) return *text;
  if (const auto* whole = std::get_if<std::int64_t>(&value.of)) return fmt::format("{}", *whole);
  if (const auto* number = std::get_if<double>(&value.of)) return fmt::format("{}", *number);
  if (const auto* flag = std::get_if<bool>(&value.of)) return *flag ? "yes" : "no";
  return {};
}

void read_setting(TableReader& keys, StintSpec& stint) {
  keys.require("setting", "setting = \"A\"");
  const auto* value = keys.value("setting");
  if (value == nullptr) return;
  stint.setting_place = value->place;
  if (const auto* table = std::get_if<Table>(&value->of)) {
    for (const auto& entry : table->entries) {
      const auto position = position_text(entry.value);
      if (position.empty()) {
        keys.wrong("setting",
                   fmt::format("'{}' expects a position such as \"2 in\" or \"half\"", entry.key));
      }
      stint.adjustments.emplace(entry.key, position);
    }
    for (const auto& [name, position] : stint.adjustments) {
      stint.setting += fmt::format("{}{} {}", stint.setting.empty() ? "" : ", ", name, position);
    }
    if (stint.setting.empty()) {
      keys.wrong("setting", "'setting' is an empty table; name an adjustment in it");
    }
    return;
  }
  stint.setting = keys.text("setting").value_or("");
}

StintSpec stint_of(Reading& reading, const Table& table) {
  TableReader keys(reading, table, "[[stint]]");
  StintSpec stint;
  stint.place = table.place;
  read_setting(keys, stint);
  stint.from = keys.time("from");
  stint.to = keys.time("to");
  keys.finish();
  return stint;
}

EventSpec event_of(Reading& reading, const Table& table) {
  TableReader keys(reading, table, "[[event]]");
  EventSpec event;
  event.place = table.place;
  keys.require("what", "what = \"lid\"");
  keys.require("at", "at = 2026-05-02T13:40:10");
  if (const auto kind = keys.word("what", names_of(all_events))) event.kind = all_events[*kind];
  event.at = keys.time("at").value_or(WrittenTime{});
  event.until = keys.time("until");
  event.channel = keys.text("channel").value_or("");
  event.piece = keys.text("piece").value_or("");
  event.text = keys.text("text").value_or("");
  keys.finish();
  return event;
}

PieceSpec piece_of(Reading& reading, const Table& table) {
  TableReader keys(reading, table, "[[piece]]");
  PieceSpec spec;
  spec.place = table.place;
  keys.require("name", "name = \"shoulder 1\"");
  spec.piece.name = keys.text("name").value_or("");
  spec.piece.cut = keys.text("cut").value_or("");
  spec.piece.mass_kg = keys.mass_kg("weight");
  if (spec.piece.mass_kg && *spec.piece.mass_kg <= 0.0) {
    keys.wrong("weight", "'weight' must be above zero");
  }
  spec.piece.intact = keys.truth("intact");
  spec.on = keys.time("on");
  spec.off = keys.time("off");
  spec.piece.rule = keys.text("rule").value_or("");
  spec.piece.by = keys.text("by").value_or("");
  spec.piece.action = keys.text("action").value_or("");
  keys.finish();
  return spec;
}

Result<void> read_pit_key(Reading& reading, TableReader& root, BurnDocument& document) {
  const auto* value = root.value("pit");
  if (value == nullptr) return {};
  if (const auto* table = std::get_if<Table>(&value->of)) {
    document.pit = pit_of(reading, *table, "[pit]");
    return {};
  }
  const auto file = root.text("pit");
  if (!file) return {};
  auto pit = read_pit(document.path.parent_path() / *file);
  if (!pit && pit.error().kind == ErrorKind::not_found) {
    root.wrong("pit", fmt::format("'pit' names a file that is not there: {}", *file));
    return {};
  }
  if (!pit) return std::unexpected(pit.error());
  document.pit = *std::move(pit);
  document.pit_file = *file;
  return {};
}

Result<void> read_roll_call_key(TableReader& root, BurnDocument& document) {
  const auto file = root.text("rollcall");
  if (!file) return {};
  document.roll_call_file = *file;
  document.roll_call_place = root.place("rollcall");
  auto called = read_roll_call(document.path.parent_path() / *file);
  if (!called && called.error().kind == ErrorKind::not_found) {
    root.wrong("rollcall", fmt::format("'rollcall' names a file that is not there: {}", *file));
    return {};
  }
  if (!called) return std::unexpected(called.error());
  document.roll_call = *std::move(called);
  return {};
}

void read_head(Reading& reading, TableReader& root, BurnDocument& document) {
  document.title = root.text("title").value_or("");
  if (const auto unit = root.word("unit", scale_names)) {
    document.unit = *unit == 0 ? Scale::fahrenheit : Scale::celsius;
  }
  reading.unit = document.unit;
  if (const auto zone = root.text("timezone")) {
    if (!is_known_zone(*zone)) {
      root.wrong("timezone",
                 fmt::format("unknown time zone '{}'{}", *zone, suggestion(*zone, zone_names())));
    }
    document.timezone = *zone;
  }
  document.matters = root.difference("matters");
  if (document.matters && document.matters->kelvins() <= 0.0) {
    root.wrong("matters", "'matters' must be above zero");
  }
  document.mark = root.time("mark");
  document.mark_uncertainty = root.elapsed("mark_uncertainty");
  if (document.mark && std::holds_alternative<Seconds>(document.mark->of)) {
    root.wrong("mark", "'mark' of the burn expects a date and time such as 2026-05-02T13:05:00");
  }
  if (document.mark_uncertainty && !document.mark) {
    root.wrong("mark_uncertainty", "'mark_uncertainty' goes with 'mark', which is missing");
  }
}

Result<BurnDocument> burn_of(const Table& table, const std::filesystem::path& path) {
  Reading reading{path.string(), {}, {}};
  TableReader root(reading, table, "");
  BurnDocument document;
  document.path = path;
  read_head(reading, root, document);
  if (auto pit = read_pit_key(reading, root, document); !pit) return std::unexpected(pit.error());
  if (auto called = read_roll_call_key(root, document); !called) {
    return std::unexpected(called.error());
  }
  read_log_specs(reading, root, document);
  root.require("probe", "a table [[probe]] with channel = \"A1\" and spot = \"left front\"");
  root.require("stint", "a table [[stint]] with setting = \"A\" and from = 2026-05-02T13:05:00");
  for (const auto* probe : root.tables("probe")) {
    document.probes.push_back(probe_of(reading, *probe));
  }
  for (const auto* stint : root.tables("stint")) {
    document.stints.push_back(stint_of(reading, *stint));
  }
  for (const auto* event : root.tables("event")) {
    document.events.push_back(event_of(reading, *event));
  }
  for (const auto* piece : root.tables("piece")) {
    document.pieces.push_back(piece_of(reading, *piece));
  }
  for (const auto& probe : document.probes) {
    if (probe.thermometer.empty() || !document.roll_call_file.empty()) continue;
    reading.complain(probe.thermometer_place,
                     "'thermometer' is a name in a roll call; say which with rollcall = "
                     "\"rollcall.toml\" at the top");
  }
  root.finish();
  if (reading.mistake) return std::unexpected(*reading.mistake);
  return document;
}

}  // namespace

std::string BurnDocument::at(Place place) const {
  return fmt::format("{}:{}:{}", path.string(), place.line, place.column);
}

Result<BurnDocument> read_burn(const std::filesystem::path& path) {
  const auto table = read_toml(path);
  if (!table) return std::unexpected(table.error());
  return burn_of(*table, path);
}

Result<BurnDocument> parse_burn(std::string_view text, const std::filesystem::path& path) {
  const auto table = parse_toml(text, path.string());
  if (!table) return std::unexpected(table.error());
  return burn_of(*table, path);
}

}  // namespace pitwright::documents
