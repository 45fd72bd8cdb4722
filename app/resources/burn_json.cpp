#include "resources/burn_json.h"

#include <algorithm>
#include <set>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "documents/time_text.h"
#include "http/stamps.h"
#include "resources/taps.h"

namespace pitwright::resources {

using http::stamp_text;
using live::Standing;
namespace {

using Json = nlohmann::ordered_json;

Json or_null(const std::optional<double>& value) {
  return value ? Json(*value) : Json(nullptr);
}
Json or_null(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json(text);
}

/// A moment of a burn; its samples are told as moments only where it stands on the world's clock.
Json moment(const db::BurnLine& line, const std::optional<db::Stamp>& stamp) {
  return stamp && line.on_world_clock ? Json(stamp_text(*stamp)) : Json(nullptr);
}

std::string_view state_of(const db::BurnLine& line) {
  return line.state == db::BurnState::live ? "live" : "closed";
}

Json line_json(const db::BurnLine& line) {
  return {{"id", link_of(line)},
          {"title", line.title.empty() ? line.name : line.title},
          {"state", std::string(state_of(line))},
          {"begun", moment(line, line.first ? line.first : line.lit)},
          {"ended", line.state == db::BurnState::live
                        ? Json(nullptr)
                        : moment(line, line.closed ? line.closed : line.last)},
          {"pit", or_null(line.pit.name)},
          {"sentence", nullptr}};
}

/// The Spot of the contract, of a Placement or a Probe.
Json spot_of(const auto& place) {
  return {{"name", place.spot.empty() ? place.channel : place.spot},
          {"channel", place.channel},
          {"role", std::string(name_of(place.role))},
          {"grate", or_null(place.grate)},
          {"x_m", or_null(place.x_m)},
          {"y_m", or_null(place.y_m)},
          {"z_m", or_null(place.z_m)},
          {"piece", or_null(place.piece)}};
}

/// "275 F": degrees Fahrenheit to a tenth, or Celsius where those are rounder.
std::string temperature_text(Temperature temperature) {
  const double f = std::round(temperature.fahrenheit() * 10.0) / 10.0;
  const double c = std::round(temperature.celsius() * 10.0) / 10.0;
  return c == std::round(c) && f != std::round(f) ? fmt::format("{:g} C", c)
                                                  : fmt::format("{:g} F", f);
}

Json pit_of(const Pit& pit, const std::vector<db::Placement>& spots) {
  Json all = {{"id", pit.name},
              {"name", pit.name},
              {"width_m", or_null(pit.width_m)},
              {"depth_m", or_null(pit.depth_m)},
              {"height_m", or_null(pit.height_m)},
              {"grates", Json::array()},
              {"adjustments", Json::array()},
              {"set_point", pit.set_point ? Json(temperature_text(*pit.set_point)) : Json(nullptr)},
              {"spots", Json::array()}};
  for (const auto& grate : pit.grates)
    all["grates"].push_back({{"name", grate.name}, {"height_m", or_null(grate.height_m)}});
  for (const auto& one : pit.adjustments)
    all["adjustments"].push_back({{"name", one.name}, {"positions", one.positions}});
  for (const auto& spot : spots) all["spots"].push_back(spot_of(spot));
  return all;
}

/// Of a burn that was fed live also those that have not been heard yet.
Json spots_of(const Burn& burn, const std::vector<db::Record>& records) {
  Json all = Json::array();
  for (const auto& record : db::standing(records))
    if (const auto* placement = std::get_if<db::Placement>(&record.what))
      all.push_back(spot_of(*placement));
  if (!all.empty()) return all;
  for (const auto& probe : burn.probes) all.push_back(spot_of(probe));
  return all;
}

Json stints_of(const Standing& standing) {
  Json all = Json::array();
  const auto& burn = *standing.burn;
  for (const auto& stint : burn.stints) {
    const bool is_running = standing.is_live() && &stint == &burn.stints.back();
    all.push_back(
        {{"index", all.size()},
         {"setting", stint.setting},
         {"from", documents::time_text(burn.clock, stint.from_s)},
         {"to", is_running ? Json(nullptr) : Json(documents::time_text(burn.clock, stint.to_s))}});
  }
  return all;
}

}  // namespace

std::string link_of(const db::BurnLine& line) {
  const bool fits = !line.name.empty() && line.name.size() <= 64 &&
                    std::ranges::all_of(line.name, [](unsigned char c) {
                      return std::isalnum(c) != 0 || c == '_' || c == '-';
                    });
  return fits ? line.name : std::to_string(static_cast<std::int64_t>(line.id));
}

std::string burns_json(const std::vector<db::BurnLine>& lines) {
  Json all = Json::array();
  for (const auto& line : lines) all.push_back(line_json(line));
  return all.dump();
}

Result<std::string> burn_json(db::Store& store, const Standing& standing, Scale scale) {
  const auto records = store.records(standing.line.id);
  if (!records) return std::unexpected(records.error());
  Json all = line_json(standing.line);
  all.erase("sentence");
  const auto& burn = *standing.burn;
  all["unit"] = scale == Scale::fahrenheit ? "F" : "C";
  all["matters"] = std::round(burn.matters.in(scale)*1000.0) / 1000.0;
  all["pit"] = standing.line.pit.name.empty() ? Json(nullptr) : pit_of(standing.line.pit, {});
  all["spots"] = spots_of(burn, *records);
  all["stints"] = stints_of(standing);
  all["taps"] = Json::parse(taps_json(taps_of(*records)));
  return all.dump();
}

std::string pit_json(const db::KnownPit& pit) {
  return pit_of(pit.pit, pit.spots).dump();
}

std::string pits_json(const std::vector<db::KnownPit>& pits) {
  Json all = Json::array();
  for (const auto& pit : pits) all.push_back(pit_of(pit.pit, pit.spots));
  return all.dump();
}

}  // namespace pitwright::resources
