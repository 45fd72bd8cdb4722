#include <cmath>
#include <optional>
#include <utility>

#include <nlohmann/json.hpp>

#include "planned/plan_words.h"
#include "report/text_width.h"

namespace pitwright::planned {
namespace {

using Json = nlohmann::ordered_json;

/// Three decimals; null for what is no number; never -0.
Json number(std::optional<double> value) {
  if (!value || !std::isfinite(*value)) return nullptr;
  const double rounded = std::round(*value * 1000.0) / 1000.0;
  return rounded == 0.0 ? 0.0 : rounded;
}

Json name(const std::string& text) {
  return text.empty() ? Json(nullptr) : Json(report::clean_name(text));
}

Json delta(const PlanView& view, double kelvins) {
  return number(TemperatureDelta::from_kelvins(kelvins).in(view.scale));
}

Json chances_json(const design::Chances& chances) {
  return {{"clear", number(chances.clear)},
          {"no odds", number(chances.no_odds)},
          {"too close", number(chances.too_close)},
          {"not yet", number(chances.not_yet)}};
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
          {"low_kg", number(need->low_kg)},
          {"high_kg", number(need->high_kg)}};
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
          {"dwell_s", number(plan.dwell_s)},
          {"settling_s", number(plan.settling_s)},
          {"counted_s", number(plan.counted_s)},
          {"soak_s", number(plan.soak_s)},
          {"hours", number(plan.burn_s / 3600.0)},
          {"fuel", fuel_json(plan.fuel, view)},
          {"level", resolution_json(view, plan.level)},
          {"run", plan.run ? resolution_json(view, *plan.run) : Json(nullptr)},
          {"tilts", std::move(tilts)},
          {"settles", plan.settles}};
}

Json spot_entry(const design::PlannedSpot& spot) {
  return {{"spot", report::clean_name(spot.name)},
          {"grate", name(spot.grate)},
          {"x_m", number(spot.x_m)},
          {"y_m", number(spot.y_m)},
          {"z_m", number(spot.z_m)},
          {"beside_sensor", spot.beside_sensor}};
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
  return {
      {"learned", habits.learned},
      {"from", name(habits.learned_from)},
      {"swing",
       {{"period_s", number(habits.swing.period_s)}, {"size", delta(view, habits.swing.size_k)}}},
      {"lag_s", number(habits.lag_s)}};
}

}  // namespace

std::string plan_json(const PlanView& view) {
  const auto& design = view.design;
  Json json = {{"pit", name(view.pit.name)},
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
