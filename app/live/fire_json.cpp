#include "live/fire_json.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "documents/time_text.h"
#include "live/fire.h"
#include "live/newest.h"
#include "report/json_values.h"
#include "report/moments.h"
#include "report/sentence.h"
#include "report/text_width.h"
#include "report/trouble_words.h"

namespace pitwright::live {
namespace {

using Json = nlohmann::ordered_json;

/// Silence that is worth a word [s].
constexpr double long_silence_s = 120.0;

Json tenths(const std::optional<double>& value) {
  return report::json_number(value, 1);
}

Json moment(const Burn& burn, const std::optional<double>& seconds) {
  return seconds ? Json(documents::time_text(burn.clock, *seconds)) : Json(nullptr);
}

Json value_in(const Newest& one, Scale scale) {
  if (!one.value) return nullptr;
  if (one.role == Role::wind || one.role == Role::drive) return tenths(one.value);
  return tenths(Temperature::from_celsius(*one.value).in(scale));
}

Json latest(const Burn& burn, Scale scale) {
  Json all = Json::array();
  for (const auto& one : newest_of(burn))
    all.push_back({{"channel", report::clean_name(one.channel)},
                   {"spot", report::json_name(one.spot)},
                   {"role", std::string(name_of(one.role))},
                   {"at", moment(burn, one.at_s)},
                   {"value", value_in(one, scale)},
                   {"runs", one.run_k ? tenths(TemperatureDelta::from_kelvins(*one.run_k).in(scale))
                                      : Json(nullptr)}});
  return all;
}

Json trouble(const FireView& view) {
  Json all = Json::array();
  if (view.is_live && view.silent_s && *view.silent_s > long_silence_s)
    all.push_back(
        {{"kind", "probe"},
         {"text", fmt::format("Nothing has been heard for {}. Look at the loggers and the network.",
                              report::duration_text(*view.silent_s))},
         {"where", nullptr}});
  if (!view.made) return all;
  for (const auto& one : view.made->troubles)
    all.push_back({{"kind", std::string(name_of(one.kind))},
                   {"text", report::trouble_text(one, view.burn, view.scale)},
                   {"where", report::json_name(one.where)}});
  return all;
}

/// The setting of the running stint.
Json setting_now(const FireView& view) {
  if (view.burn.stints.empty()) return nullptr;
  return report::clean_name(view.burn.stints.back().setting);
}

}  // namespace

std::string latest_json(const Burn& burn, Scale scale) {
  return latest(burn, scale).dump();
}

std::string fire_json(const FireView& view) {
  const auto& burn = view.burn;
  std::optional<report::CallView> call;
  if (view.made) call.emplace(report::CallView{*view.made, burn, view.scale});
  const bool is_early = view.is_live && burn.last_s() - burn.first_s() < too_short_s;
  const auto fire = !call      ? waiting_fire(burn, view.made.error().what)
                    : is_early ? listening_fire()
                               : fire_of(*call);
  const auto* live = view.made && view.made->live && !is_early ? &*view.made->live : nullptr;
  const bool has_samples = std::ranges::any_of(
      burn.probes, [](const Probe& probe) { return !probe.readings.seconds.empty(); });
  Json all;
  all["as_of"] =
      has_samples ? moment(burn, live && live->as_known_at_s ? *live->as_known_at_s : burn.last_s())
                  : Json(nullptr);
  all["state"] = fire.state;
  all["word"] = fire.word;
  all["countdown_s"] = fire.countdown_s ? Json(std::round(*fire.countdown_s)) : Json(nullptr);
  all["next"] = fire.next;
  all["next_at"] = moment(burn, fire.next_at_s);
  all["next_setting"] = fire.next_setting ? Json(*fire.next_setting) : Json(nullptr);
  all["soaked"] = live                     ? Json(live->soaked)
                  : view.made && !is_early ? Json(view.made->soaked_at_s.has_value())
                                           : Json(nullptr);
  all["setting"] = setting_now(view);
  all["counting_s"] = live ? Json(std::round(live->counting_s)) : Json(nullptr);
  all["needed_s"] = live ? Json(std::round(live->needed_s)) : Json(nullptr);
  all["clear"] = fire.clear;
  all["open"] = fire.open;
  all["stints_more"] = fire.stints_more ? Json(*fire.stints_more) : Json(nullptr);
  all["trouble"] = trouble(view);
  all["sentence"] = call ? Json(report::sentence(*call)) : Json(nullptr);
  all["latest"] = latest(burn, view.scale);
  return all.dump();
}

}  // namespace pitwright::live
