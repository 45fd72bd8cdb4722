#include <optional>
#include <utility>

#include <nlohmann/json.hpp>

#include "planned/plan_words.h"
#include "report/json_values.h"
#include "report/text_width.h"

namespace pitwright::planned {
namespace {

using Json = nlohmann::ordered_json;
using report::json_name;
using report::json_number;

Json delta(const PlanView& view, double kelvins) {
  return json_number(TemperatureDelta::from_kelvins(kelvins).in(view.scale));
}

Json chances_json(const design::Chances& chances) {
  return {{"clear", json_number(chances.clear)},
          {"no odds", json_number(chances.no_odds)},
          {"too close", json_number(chances.too_close)},
          {"not yet", json_number(chances.not_yet)}};
}

Json resolution_json(const PlanView& view, const design::Resolution& resolution) {
  Json words = Json::array();
  for (std::size_t k = 0; k < resolution.chances.size(); ++k) {
    words.push_back(
        {{"true_change", delta(view, static_cast<double>(k) * view.wishes.matters.kelvins())},
         {"chance", chances_json(resolution.chances[k])}});
  }
  return {{"half_width", delta(view, resolution.half_width_k)},
          {"half_width_low", delta(view, resolution.low_k)},
          {"half_width_high", delta(view, resolution.high_k)},
          {"words", std::move(words)}};
}

Json fuel_json(const std::optional<design::FuelNeed>& need, const PlanView& view) {
  if (!need) return nullptr;
  return {{"kind", std::string(design::name_of(*view.wishes.fuel))},
          {"low_kg", json_number(need->low_kg)},
          {"high_kg", json_number(need->high_kg)}};
}

Json plan_entry(const PlanView& view, const design::Plan& plan) {
  Json order = Json::array();
  for (const int setting : plan.order)
    order.push_back(report::clean_name(view.wishes.settings[static_cast<std::size_t>(setting)]));
  Json tilts = Json::array();
  for (const auto& tilt : plan.tilts) {
    Json one = {{"axis", std::string(name_of(tilt.axis))}};
    one.update(resolution_json(view, tilt.resolution));
    tilts.push_back(std::move(one));
  }
  return {{"order", std::move(order)},
          {"dwell_s", json_number(plan.dwell_s)},
          {"settling_s", json_number(plan.settling_s)},
          {"counted_s", json_number(plan.counted_s)},
          {"soak_s", json_number(plan.soak_s)},
          {"hours", json_number(plan.burn_s / 3600.0)},
          {"fuel", fuel_json(plan.fuel, view)},
          {"level", resolution_json(view, plan.level)},
          {"run", plan.run ? resolution_json(view, *plan.run) : Json(nullptr)},
          {"tilts", std::move(tilts)},
          {"settles", plan.settles}};
}

Json spot_entry(const design::PlannedSpot& spot) {
  return {{"spot", report::clean_name(spot.name)}, {"grate", json_name(spot.grate)},
          {"x_m", json_number(spot.x_m)},          {"y_m", json_number(spot.y_m)},
          {"z_m", json_number(spot.z_m)},          {"beside_sensor", spot.beside_sensor}};
}

std::string missing_name(design::Missing missing) {
  switch (missing) {
    case design::Missing::width:
      return "width";
    case design::Missing::depth:
      return "depth";
    case design::Missing::grates:
      return "grates";
    case design::Missing::grate_height:
      return "grate height";
    case design::Missing::sensor_place:
      return "sensor place";
  }
  std::unreachable();
}

Json habits_json(const PlanView& view) {
  const auto& habits = view.design.habits;
  return {{"learned", habits.learned},
          {"from", json_name(habits.learned_from)},
          {"swing",
           {{"period_s", json_number(habits.swing.period_s)},
            {"size", delta(view, habits.swing.size_k)}}},
          {"lag_s", json_number(habits.lag_s)}};
}

}  // namespace

std::string plan_json(const PlanView& view) {
  const auto& design = view.design;
  Json json = {{"pit", json_name(view.pit.name)},
               {"unit", view.scale == Scale::celsius ? "C" : "F"},
               {"matters", delta(view, view.wishes.matters.kelvins())},
               {"confidence", 0.95},
               {"question", std::string(name_of(view.wishes.question))},
               {"probes", view.wishes.probes},
               {"habits", habits_json(view)}};
  json["settings"] = Json::array();
  for (const auto& setting : view.wishes.settings)
    json["settings"].push_back(report::clean_name(setting));
  json["spots"] = Json::array();
  for (const auto& spot : design.spots.spots) json["spots"].push_back(spot_entry(spot));
  json["anchor"] = design.spots.anchor;
  json["rounds"] = design.spots.rounds;
  json["missing"] = Json::array();
  for (const auto missing : design.spots.missing) json["missing"].push_back(missing_name(missing));
  json["plans"] = Json::array();
  for (const auto& plan : design.plans) json["plans"].push_back(plan_entry(view, plan));
  json["recommended"] = design.recommended;
  json["left_out"] = design.left_out;
  json["notes"] = notes(view);
  json["sentence"] = plan_sentence(view);
  return json.dump(2) + "\n";
}

}  // namespace pitwright::planned
