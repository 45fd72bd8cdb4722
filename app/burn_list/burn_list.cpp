#include "burn_list/burn_list.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "documents/time_text.h"
#include "report/moments.h"
#include "report/text_table.h"
#include "report/text_width.h"

namespace pitwright::burn_list {
namespace {

using Json = nlohmann::ordered_json;

/// A burn without anything but its clock, for the texts of moments.
Burn clock_of(const db::BurnLine& line) {
  Burn burn;
  burn.clock.timezone = line.timezone;
  if (line.on_world_clock) {
    burn.clock.zero = std::chrono::floor<std::chrono::milliseconds>(line.first.value_or(line.lit));
  }
  return burn;
}

std::string readings_text(const db::BurnLine& line) {
  return line.samples == 0 ? "none" : fmt::format("{} in {}", line.samples, line.channels);
}

std::string length_text(const db::BurnLine& line) {
  if (!line.first) return "";
  return report::duration_text(std::chrono::duration<double>(*line.last - *line.first).count());
}

Json time_json(const db::BurnLine& line, const std::optional<db::Stamp>& stamp) {
  if (!stamp) return nullptr;
  BurnClock clock{{}, line.timezone};
  if (line.on_world_clock) clock.zero = Instant{};
  const std::chrono::duration<double> since = stamp->time_since_epoch();
  return documents::time_text(clock, since.count());
}

Json line_json(const db::BurnLine& line) {
  const bool is_kept = line.state == db::BurnState::kept;
  return {{"number", static_cast<std::int64_t>(line.id)},
          {"name", report::clean_name(line.name)},
          {"title", report::clean_name(line.title)},
          {"state", std::string(db::name_of(line.state))},
          {"unit", line.scale == Scale::celsius ? "C" : "F"},
          {"timezone", line.timezone.empty() ? Json(nullptr) : Json(line.timezone)},
          {"first", time_json(line, line.first)},
          {"last", time_json(line, line.last)},
          {"closed", time_json(line, line.closed)},
          {"samples", line.samples},
          {"channels", line.channels},
          {"records", line.records},
          {"files", line.files},
          {"bytes", line.file_bytes},
          {"content", is_kept ? Json(line.content) : Json(nullptr)}};
}

}  // namespace

std::string text_of(std::span<const db::BurnLine> burns, const std::string& store, int width) {
  if (burns.empty()) {
    return fmt::format("No burns in {}; 'pitwright keep BURN' puts one in.\n", store);
  }
  std::vector<std::string> names;
  report::Column day{"lit", {}}, length{"lasted", {}}, state{"", {}}, readings{"readings", {}},
      title{"", {}};
  for (const auto& line : burns) {
    names.push_back(report::clean_name(line.name));
    day.cells.push_back(report::day_text(clock_of(line)));
    length.cells.push_back(length_text(line));
    state.cells.emplace_back(db::name_of(line.state));
    readings.cells.push_back(readings_text(line));
    title.cells.push_back(report::shortened(report::clean_name(line.title), 34));
  }
  return report::table_text("", names, {day, length, state, readings, title}, width);
}

std::string json_of(std::span<const db::BurnLine> burns, const std::string& store) {
  Json json{{"store", report::clean_name(store)}, {"burns", Json::array()}};
  for (const auto& line : burns) json["burns"].push_back(line_json(line));
  return json.dump(2) + "\n";
}

}  // namespace pitwright::burn_list
