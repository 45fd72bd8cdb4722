#include <optional>

#include <nlohmann/json.hpp>

#include "report/json_values.h"
#include "report/text_width.h"
#include "toasted/joined_json.h"
#include "toasted/toast_view.h"
#include "toasted/toast_words.h"

namespace pitwright::toasted {
namespace {

using Json = nlohmann::ordered_json;

constexpr double two_sided_95 = 1.959964;

/// Four decimals.
Json number(std::optional<double> value) {
  return report::json_number(value, 4);
}

Json reading(const ToastView& view, double celsius) {
  return number(degC(celsius).in(view.scale));
}

Json delta(const ToastView& view, double kelvins) {
  return number(TemperatureDelta::from_kelvins(kelvins).in(view.scale));
}

Json range_json(const ToastView& view, const std::optional<browning::Ranged>& r, bool is_reading) {
  if (!r) return nullptr;
  const auto shown = [&](double v) { return is_reading ? reading(view, v) : delta(view, v); };
  return {{"value", shown(r->value)}, {"low", shown(r->low)}, {"high", shown(r->high)}};
}

Json slices_json(const ToastView& view) {
  const auto& toast = view.toast;
  Json all = Json::array();
  for (std::size_t i = 0; i < toast.seen.slices.size(); ++i) {
    const auto& slice = toast.seen.slices[i];
    const auto& heat = toast.map.heats[i];
    const auto flaw = flaw_name(toast.map.flaws[i]);
    Json one{{"slice", i + 1},
             {"x", number(slice.x_m)},
             {"y", number(slice.y_m)},
             {"side", number(slice.side_m)},
             {"lightness", number(slice.color.lightness)},
             {"a", number(slice.color.a)},
             {"b", number(slice.color.b)},
             {"lightness_sd", number(slice.lightness_sd)},
             {"glare_share", number(slice.glare_share)},
             {"left_out", flaw.empty() ? Json(nullptr) : Json(flaw)}};
    const double reach = heat ? two_sided_95 * heat->sd_k : 0.0;
    one["value"] = heat ? reading(view, heat->mean_c) : Json(nullptr);
    one["low"] = heat ? reading(view, heat->mean_c - reach) : Json(nullptr);
    one["high"] = heat ? reading(view, heat->mean_c + reach) : Json(nullptr);
    one["sd"] = heat ? delta(view, heat->sd_k) : Json(nullptr);
    one["runs"] = heat ? delta(view, heat->run_k) : Json(nullptr);
    one["runs_sd"] = heat ? delta(view, heat->run_sd_k) : Json(nullptr);
    all.push_back(std::move(one));
  }
  return all;
}

Json probes_json(const ToastView& view) {
  const auto& toast = view.toast;
  Json all = Json::array();
  for (std::size_t j = 0; j < toast.map.probes.size(); ++j) {
    const auto& probe = toast.document.probes[j];
    const auto& call = toast.map.probes[j];
    Json apart = nullptr;
    if (call.apart)
      apart = {{"value", delta(view, call.apart->difference_k)},
               {"low", delta(view, call.apart->low_k)},
               {"high", delta(view, call.apart->high_k)},
               {"disagrees", call.apart->disagrees}};
    all.push_back({{"spot", report::clean_name(probe.spot)},
                   {"x", number(probe.x_m)},
                   {"y", number(probe.y_m)},
                   {"reading", reading(view, probe.heat_c)},
                   {"slice", call.slice ? Json(*call.slice + 1) : Json(nullptr)},
                   {"toast_minus_air", apart}});
  }
  return all;
}

Json light_json(const ToastView& view) {
  const auto& seen = view.toast.seen;
  const bool was_read = seen.light_from != photo::LightFrom::none;
  return {{"from", light_name(seen.light_from)},
          {"ratio", was_read ? number(seen.light.ratio()) : Json(nullptr)},
          {"left_over", was_read ? number(seen.light.residual_sd) : Json(nullptr)}};
}

}  // namespace

std::string toast_json(const ToastView& view) {
  const auto& toast = view.toast;
  const auto& map = toast.map;
  Json cards = Json::array();
  for (const auto& card : toast.seen.cards)
    cards.push_back({{"expected", number(card.expected)}, {"seen", number(card.seen)}});
  Json left_out = left_out_sentences(view), apart = apart_sentences(view);
  Json document{
      {"toast", report::clean_name(toast.document.title)},
      {"unit", view.scale == Scale::fahrenheit ? "F" : "C"},
      {"confidence", 0.95},
      {"photo",
       {{"file", report::clean_name(toast.document.photo.filename().string())},
        {"width", toast.seen.width_px},
        {"height", toast.seen.height_px}}},
      {"grate",
       {{"width", number(toast.document.scene.width_m)},
        {"depth", number(toast.document.scene.depth_m)}}},
      {"light", light_json(view)},
      {"cards", std::move(cards)},
      {"untoasted", number(toast.seen.untoasted)},
      {"slices_laid", toast.document.slices ? Json(*toast.document.slices) : Json(nullptr)},
      {"slices", slices_json(view)},
      {"level", range_json(view, map.level_c, true)},
      {"tilts",
       Json::array(
           {{{"axis", "left-right"}, {"tilt", range_json(view, map.left_right_k, false)}},
            {{"axis", "front-back"}, {"tilt", range_json(view, map.front_back_k, false)}}})},
      {"probes", probes_json(view)},
      {"anchors", map.anchors},
      {"scatter", map.anchors > 0 ? delta(view, map.scatter_k) : Json(nullptr)},
      {"left_out", std::move(left_out)},
      {"disagree", std::move(apart)},
      {"joined", joined_json(view)},
      {"not_joined", toast.not_joined.empty() ? Json(nullptr) : Json(toast.not_joined)},
      {"sentence", toast_sentence(view)}};
  return document.dump(2) + "\n";
}

}  // namespace pitwright::toasted
