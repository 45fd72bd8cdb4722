#include "toasted/joined_json.h"

#include <nlohmann/json.hpp>

#include "report/json_values.h"
#include "report/text_width.h"
#include "toasted/joined_words.h"

namespace pitwright::toasted {
namespace {

using Json = nlohmann::ordered_json;

/// Four decimals.
Json number(double value) {
  return report::json_number(value, 4);
}

Json numbers(const std::vector<double>& values) {
  Json all = Json::array();
  for (const double v : values) all.push_back(number(v));
  return all;
}

/// One row a y; differences in the page's unit.
Json grid_json(const ToastView& view, const lay::Grid& grid) {
  Json rows = Json::array();
  for (const auto& row : grid) {
    Json one = Json::array();
    for (const double v : row)
      one.push_back(number(TemperatureDelta::from_kelvins(v).in(view.scale)));
    rows.push_back(std::move(one));
  }
  return rows;
}

Json place_json(const ToastView& view, const lay::ToastPlace& at) {
  const auto delta = [&](double k) {
    return number(TemperatureDelta::from_kelvins(k).in(view.scale));
  };
  return {{"x", number(at.place.x_m)},
          {"y", number(at.place.y_m)},
          {"value", delta(at.value_k)},
          {"low", delta(at.low_k)},
          {"high", delta(at.high_k)}};
}

}  // namespace

Json joined_json(const ToastView& view) {
  if (!view.toast.joined) return nullptr;
  const auto& joined = *view.toast.joined;
  const auto& map = joined.map;
  const auto& summary = joined.summary;
  const auto& level = joined.told().level_c;
  const auto delta = [&](double k) {
    return number(TemperatureDelta::from_kelvins(k).in(view.scale));
  };
  const auto reading = [&](double c) { return number(degC(c).in(view.scale)); };
  Json most = place_json(view, summary.disagreement);
  most["chance_matters"] = number(summary.chance_matters);
  return {{"setting", report::clean_name(map.setting)},
          {"grate", report::clean_name(map.grate)},
          {"level",
           {{"value", reading(level.value)},
            {"low", reading(level.low)},
            {"high", reading(level.high)}}},
          {"x", numbers(map.x_m)},
          {"y", numbers(map.y_m)},
          {"value", grid_json(view, map.value_k)},
          {"sd", grid_json(view, map.sd_k)},
          {"sd_alone", grid_json(view, joined.alone().sd_k)},
          {"disagreement",
           {{"value", grid_json(view, map.radiant_k)},
            {"sd", grid_json(view, map.radiant_sd_k)},
            {"matters", delta(joined.matters_k)},
            {"most", std::move(most)},
            {"share", number(summary.share)}}},
          {"hottest", place_json(view, summary.hottest)},
          {"coolest", place_json(view, summary.coolest)},
          {"median_sd", delta(summary.sd_k)},
          {"median_sd_alone", delta(summary.sd_alone_k)},
          {"by_order", joined.by_order},
          {"sentence", joined_sentence(view)}};
}

}  // namespace pitwright::toasted
