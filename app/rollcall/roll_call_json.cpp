#include <optional>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <nlohmann/json.hpp>

#include "report/json_values.h"
#include "report/text_width.h"
#include "rollcall/roll_call_view.h"

namespace pitwright::rollcall {
namespace {

using Json = nlohmann::ordered_json;
using report::clean_name;
using report::json_name;
using report::json_number;

Json delta(std::optional<double> kelvins, Scale scale) {
  if (!kelvins) return nullptr;
  return json_number(TemperatureDelta::from_kelvins(*kelvins).in(scale));
}

Json degrees(double celsius, Scale scale) {
  return json_number(Temperature::from_celsius(celsius).in(scale));
}

Json fixed_json(const thermometer::FixedPoint& point, Scale scale) {
  constexpr double normal_95 = 1.959964;
  return {{"temperature", degrees(point.celsius, scale)},
          {"uncertainty", delta(normal_95 * point.standard_k, scale)}};
}

Json shown_json(const std::optional<thermometer::Shown>& shown, Scale scale) {
  if (!shown) return nullptr;
  return {{"count", shown->count},
          {"reading", degrees(shown->reading_c, scale)},
          {"spread", delta(shown->spread_k, scale)},
          {"add", delta(shown->add_k, scale)},
          {"uncertainty", delta(shown->uncertainty_k, scale)},
          {"left", delta(shown->left_k, scale)}};
}

Json probe_json(const RollCallView& view, std::size_t i) {
  const auto& probe = view.called.probes[i];
  const auto scale = view.scale;
  const bool has_correction = !probe.correction.points.empty();
  Json at = Json::object();
  for (const auto place : thermometer::all_places)
    at[std::string(name_of(place))] = shown_json(probe.at[static_cast<std::size_t>(place)], scale);
  Json points = Json::array();
  for (const auto& point : probe.correction.points) {
    points.push_back({{"at", degrees(point.at_c, scale)},
                      {"add", delta(point.add_k, scale)},
                      {"uncertainty", delta(point.uncertainty_k, scale)}});
  }
  const auto known = [&](double kelvins) {
    return has_correction ? delta(kelvins, scale) : Json(nullptr);
  };
  return {{"name", clean_name(probe.name)},
          {"sensor", json_name(view.document.sensors[i].how)},
          {"resolution", delta(view.document.probes[i].resolution_k, scale)},
          {"at", std::move(at)},
          {"correction", std::move(points)},
          {"gain", probe.has_gain ? json_number(probe.slope) : Json(nullptr)},
          {"add", known(probe.add_k)},
          {"uncertainty", known(probe.uncertainty_k)},
          {"own_uncertainty", known(probe.own_k)},
          {"verdict", std::string(name_of(probe.verdict))},
          {"why", json_name(why_text(view, probe))},
          {"comparable", probe.comparable},
          {"paste", json_name(fmt::format("{}", fmt::join(paste_lines(view, probe), " ")))}};
}

}  // namespace

std::string roll_call_json(const RollCallView& view) {
  const auto& conditions = view.called.conditions;
  const auto& boil = view.document.boil;
  Json json = {{"kind", "rollcall"},
               {"title", json_name(view.document.title)},
               {"unit", view.scale == Scale::celsius ? "C" : "F"},
               {"date", json_name(date_text(view.document.date))},
               {"by", json_name(view.document.by)},
               {"used_at", degrees(conditions.used_at_c, view.scale)},
               {"accept", delta(conditions.accept_k, view.scale)},
               {"confidence", 0.95},
               {"ice", conditions.ice ? fixed_json(*conditions.ice, view.scale) : Json(nullptr)}};
  json["boil"] = nullptr;
  if (boil && conditions.boil) {
    json["boil"] = fixed_json(*conditions.boil, view.scale);
    json["boil"]["altitude_m"] = json_number(boil->altitude_m);
    json["boil"]["pressure_hpa"] =
        boil->pressure_pa ? json_number(*boil->pressure_pa / 100.0) : Json(nullptr);
  }
  json["probes"] = Json::array();
  for (std::size_t i = 0; i < view.called.probes.size(); ++i)
    json["probes"].push_back(probe_json(view, i));
  json["bundles"] = Json::array();
  for (const auto& bundle : view.called.bundles) {
    json["bundles"].push_back({{"place", std::string(name_of(bundle.place))},
                               {"rounds", bundle.rounds},
                               {"middle", degrees(bundle.center_c, view.scale)},
                               {"absolute", bundle.is_absolute},
                               {"range_shown", delta(bundle.raw_range_k, view.scale)},
                               {"range_corrected", delta(bundle.corrected_range_k, view.scale)}});
  }
  json["assumed"] = Json::array();
  for (const auto& line : view.document.assumed) json["assumed"].push_back(clean_name(line));
  json["sentence"] = sentence(view);
  return json.dump(2) + "\n";
}

}  // namespace pitwright::rollcall
