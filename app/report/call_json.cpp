#include "report/call_json.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string_view>

#include <nlohmann/json.hpp>

#include "documents/time_text.h"
#include "report/call_words.h"
#include "report/json_values.h"
#include "report/sentence.h"
#include "report/text_width.h"
#include "report/trouble_words.h"

namespace pitwright::report {
namespace {

using Json = nlohmann::ordered_json;

/// The enumerators' name as a JSON string.
Json text_of(std::string_view name) {
  return std::string(name);
}

/// How one view's values become JSON: its scale and its clock.
class Writer {
 public:
  explicit Writer(const CallView& view) : view_(view) {}

  Json difference(double kelvins) const {
    return json_number(TemperatureDelta::from_kelvins(kelvins).in(view_.scale));
  }

  Json reading(double celsius) const {
    return json_number(Temperature::from_celsius(celsius).in(view_.scale));
  }

  Json time(const std::optional<double>& seconds) const {
    if (!seconds || !std::isfinite(*seconds)) return nullptr;
    return documents::time_text(view_.burn.clock, *seconds);
  }

  std::string setting(int index) const { return setting_name(view_, index); }

  /// value, low, high; nulls where there is no estimate.
  void put_estimate(Json& into, const std::optional<call::Estimate>& estimate,
                    bool is_reading) const {
    const auto shown = [&](double value) -> Json {
      if (!estimate) return nullptr;
      return is_reading ? reading(value) : difference(value);
    };
    into["value"] = shown(estimate ? estimate->value : 0.0);
    into["low"] = shown(estimate ? estimate->low : 0.0);
    into["high"] = shown(estimate ? estimate->high : 0.0);
  }

  Json by_setting(const call::Quantity& quantity, bool is_reading) const {
    Json all = Json::object();
    for (int index = 0; index < std::ssize(view_.report.settings); ++index) {
      const auto entry =
          std::ranges::find(quantity.by_setting, index, &call::SettingEstimate::setting);
      const bool told = entry != quantity.by_setting.end();
      Json& one = all[setting(index)] = Json::object();
      put_estimate(one, told ? entry->estimate : std::nullopt, is_reading);
      one["probe_uncertainty"] =
          told && entry->estimate ? difference(entry->probe_uncertainty_k) : Json(nullptr);
    }
    return all;
  }

  Json change_head(const call::Change& change) const {
    Json one = {{"from", setting(change.from)}, {"to", setting(change.to)}};
    put_estimate(one, change.estimate, false);
    return one;
  }

  Json change(const call::Change& told) const {
    Json one = change_head(told);
    const bool known = told.estimate.has_value();
    one["word_low"] = known ? difference(told.word_low) : Json(nullptr);
    one["word_high"] = known ? difference(told.word_high) : Json(nullptr);
    one["call"] = text_of(name_of(told.word));
    const bool open = told.word == call::Word::too_close || told.word == call::Word::not_yet;
    one["needs_stints"] = open && told.needs_stints ? Json(*told.needs_stints) : Json(nullptr);
    one["because"] = told.because;
    one["borrowed"] = told.borrowed;
    return one;
  }

  Json quantity(const call::Quantity& told, bool is_reading = false) const {
    Json changes = Json::array();
    for (const auto& one : told.changes) changes.push_back(change(one));
    return {{"by_setting", by_setting(told, is_reading)}, {"changes", std::move(changes)}};
  }

  Json swing() const {
    Json channels = Json::object();
    for (const auto& [channel, one] : view_.report.swings) {
      channels[clean_name(channel)] = cycle(one);
    }
    Json top = cycle(view_.report.swing);
    top["by_channel"] = std::move(channels);
    top["by_setting"] = Json::object();
    const auto& by_setting = view_.report.swing_by_setting;
    for (std::size_t k = 0; k < by_setting.size(); ++k)
      if (by_setting[k])
        top["by_setting"][clean_name(view_.report.settings[k])] = cycle(*by_setting[k]);
    return top;
  }

  Json stint(const call::StintCall& told) const {
    return {{"index", told.index},
            {"setting", setting(told.setting)},
            {"from", time(told.from_s)},
            {"to", time(told.to_s)},
            {"counted_from", time(told.counted_from_s)},
            {"counted_to", time(told.counted_to_s)},
            {"excluded_s", json_number(told.excluded_s)},
            {"state", text_of(name_of(told.state))},
            {"why", clean_name(told.why)}};
  }

  Json lid(const call::LidCall& told) const {
    Json spots = Json::array();
    for (const auto& one : told.spots) {
      const auto& spot = view_.report.spots[static_cast<std::size_t>(one.spot)];
      spots.push_back({{"spot", clean_name(spot.spot)},
                       {"back_s", json_number(one.back_s)},
                       {"short", difference(one.short_k)},
                       {"slow", one.is_slow}});
    }
    return {{"from", time(told.from_s)},
            {"until", time(told.until_s)},
            {"clear", time(told.clear_s)},
            {"marked", told.is_marked},
            {"depth", difference(told.depth_k)},
            {"stint", told.stint ? Json(*told.stint) : Json(nullptr)},
            {"within", difference(told.within_k)},
            {"spots", std::move(spots)}};
  }

  Json spot(const call::SpotCall& told) const {
    Json one = {{"spot", clean_name(told.spot)}, {"channel", clean_name(told.channel)}};
    one.update(quantity(told.runs));
    Json readings = Json::array();
    for (const auto& change : told.reading_changes) readings.push_back(change_head(change));
    one["reading_changes"] = std::move(readings);
    return one;
  }

  Json tilt(const call::TiltCall& told) const {
    Json one = {{"axis", text_of(name_of(told.axis))}, {"extent_m", json_number(told.extent_m)}};
    one.update(quantity(told.tilt));
    return one;
  }

  Json dial_meaning(const DialMeaning& told) const {
    Json one = {{"setting", setting(told.setting)}, {"dial", reading(told.dial_c)}};
    Json air;
    put_estimate(air, told.air_c, true);
    one["chamber_air"] = std::move(air);
    return one;
  }

  Json trouble(const call::Trouble& told) const {
    return {{"kind", text_of(name_of(told.kind))},
            {"where", told.where.empty() ? Json(nullptr) : Json(clean_name(told.where))},
            {"at", time(told.at_s)},
            {"stint", told.stint ? Json(*told.stint) : Json(nullptr)},
            {"against", told.against.empty() ? Json(nullptr) : Json(clean_name(told.against))},
            {"text", trouble_text(told, view_.burn, view_.scale)}};
  }

  Json live() const {
    if (!view_.report.live) return nullptr;
    const auto& told = *view_.report.live;
    return {{"state", text_of(name_of(told.state))},
            {"counting_s", json_number(told.counting_s)},
            {"needed_s", json_number(told.needed_s)},
            {"next", live_next_text(view_)},
            {"soaked", told.soaked},
            {"change_at", time(told.change_at_s)},
            {"change_to", told.change_to ? Json(setting(*told.change_to)) : Json(nullptr)}};
  }

 private:
  Json cycle(const call::Swing& told) const {
    return {{"period_s", json_number(told.period_s)}, {"size", difference(told.size_k)}};
  }

  const CallView& view_;
};

/// Every entry of a list through one of the writer's functions.
template <typename List, typename Each>
Json array_of(const List& list, Each each) {
  Json all = Json::array();
  for (const auto& entry : list) all.push_back(each(entry));
  return all;
}

}  // namespace

std::string call_json(const CallView& view) {
  const Writer write(view);
  const auto& report = view.report;
  Json all;
  all["burn"] = clean_name(view.burn.title);
  all["unit"] = view.scale == Scale::fahrenheit ? "F" : "C";
  all["matters"] = write.difference(view.burn.matters.kelvins());
  all["confidence"] = 0.95;
  all["soaked_at"] = write.time(report.soaked_at_s);
  all["swing"] = write.swing();
  all["stints"] = array_of(report.stints, [&](const auto& one) { return write.stint(one); });
  all["lids"] = array_of(report.lids, [&](const auto& one) { return write.lid(one); });
  all["level"] = write.quantity(report.level, true);
  all["spots"] = array_of(report.spots, [&](const auto& one) { return write.spot(one); });
  all["tilts"] = array_of(report.tilts, [&](const auto& one) { return write.tilt(one); });
  all["spread"] = write.quantity(report.spread);
  all["dial_gap"] = report.dial_gap ? write.quantity(*report.dial_gap) : Json(nullptr);
  all["dial_means"] =
      array_of(dial_meanings(report), [&](const auto& one) { return write.dial_meaning(one); });
  all["trouble"] = array_of(report.troubles, [&](const auto& one) { return write.trouble(one); });
  all["live"] = write.live();
  all["sentence"] = sentence(view);
  all["explain"] = array_of(report.explain, [](const auto& one) { return Json(clean_name(one)); });
  return all.dump(2) + "\n";
}

}  // namespace pitwright::report
