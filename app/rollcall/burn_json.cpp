#include <optional>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "documents/time_text.h"
#include "report/json_values.h"
#include "report/text_width.h"
#include "report/trouble_words.h"
#include "rollcall/burn_view.h"

namespace pitwright::rollcall {
namespace {

using Json = nlohmann::ordered_json;
using report::clean_name;
using report::json_name;
using report::json_number;

Json probe_json(const BurnView& view, const call::ThermometerSeen& probe) {
  const auto delta = [&](std::optional<double> k) {
    return k ? json_number(TemperatureDelta::from_kelvins(*k).in(view.scale)) : Json(nullptr);
  };
  return {{"channel", clean_name(probe.channel)},
          {"spot", json_name(probe.spot)},
          {"role", std::string(name_of(probe.role))},
          {"usual", probe.usual_c
                        ? json_number(Temperature::from_celsius(*probe.usual_c).in(view.scale))
                        : Json(nullptr)},
          {"correction", delta(probe.add_k)},
          {"uncertainty", delta(probe.uncertainty_k)},
          {"swing_share", json_number(probe.share)},
          {"late_s", json_number(probe.late_s)},
          {"lag_s", json_number(probe.lag_s)}};
}

}  // namespace

std::string burn_json(const BurnView& view) {
  const auto& burn = view.open.burn;
  Json json = {{"kind", "burn"},
               {"burn", clean_name(burn.title)},
               {"unit", view.scale == Scale::celsius ? "C" : "F"},
               {"swing_period_s", json_number(view.seen.period_s)}};
  json["probes"] = Json::array();
  for (const auto& probe : view.seen.probes) json["probes"].push_back(probe_json(view, probe));
  json["trouble"] = Json::array();
  for (const auto& trouble : view.seen.troubles) {
    json["trouble"].push_back(
        {{"kind", std::string(name_of(trouble.kind))},
         {"where", json_name(trouble.where)},
         {"at",
          trouble.at_s ? Json(documents::time_text(burn.clock, *trouble.at_s)) : Json(nullptr)},
         {"text", report::trouble_text(trouble, burn, view.scale)}});
  }
  json["clocks"] = Json::array();
  for (const auto& log : view.logs) {
    json["clocks"].push_back(
        {{"log", clean_name(log.file)},
         {"offset_s", log.clock ? json_number(log.clock->offset_s) : Json(nullptr)},
         {"drift_s_per_h", log.clock ? json_number(log.clock->drift_s_per_h) : Json(nullptr)},
         {"uncertainty_s", log.clock ? json_number(log.clock->uncertainty_s) : Json(nullptr)},
         {"how", log.clock ? json_name(log.clock->how) : Json(nullptr)}});
  }
  json["sentence"] = sentence(view);
  return json.dump(2) + "\n";
}

}  // namespace pitwright::rollcall
