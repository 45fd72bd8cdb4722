#include "mapped/lay_json.h"

#include <algorithm>
#include <optional>

#include <nlohmann/json.hpp>

#include "mapped/lay_words.h"
#include "report/json_values.h"
#include "report/text_width.h"

namespace pitwright::mapped {
namespace {

using Json = nlohmann::ordered_json;
using report::json_number;

Json length(double meters) {
  return json_number(meters, 4);
}

class Writer {
 public:
  explicit Writer(const LayView& view) : view_(view) {}

  Json document() const {
    Json all = {{"burn", report::clean_name(view_.call.burn.title)},
                {"unit", view_.call.scale == Scale::fahrenheit ? "F" : "C"},
                {"confidence", 0.95},
                {"band", difference(view_.band_k)},
                {"sentence", lay_sentence(view_)}};
    all["settings"] = Json::array();
    for (int s = 0; s < std::ssize(view_.lay.settings); ++s) all["settings"].push_back(setting(s));
    all["differences"] = Json::array();
    for (const auto& one : view_.lay.differences) all["differences"].push_back(difference_of(one));
    all["spots"] = Json::array();
    for (const auto& one : view_.lay.spots) all["spots"].push_back(spot(one));
    all["at"] = asked();
    all["next_spots"] = Json::array();
    for (const auto& one : view_.lay.next_spots)
      all["next_spots"].push_back({{"grate", report::clean_name(one.grate)},
                                   {"x", length(one.place.x_m)},
                                   {"y", length(one.place.y_m)},
                                   {"variance_fall", json_number(one.variance_fall)}});
    all["leave_one_out"] = Json::array();
    for (const auto& one : view_.lay.leave_one_out) all["leave_one_out"].push_back(left_out(one));
    all["scales"] = scales();
    all["unplaced"] = names(view_.lay.unplaced);
    all["uncounted"] = names(view_.lay.uncounted);
    all["notes"] = lay_notes(view_);
    return all;
  }

 private:
  Json difference(double kelvins) const {
    return json_number(TemperatureDelta::from_kelvins(kelvins).in(view_.call.scale));
  }
  Json reading(double celsius) const {
    return json_number(Temperature::from_celsius(celsius).in(view_.call.scale));
  }
  Json difference(const call::Estimate& kelvins) const {
    return {{"value", difference(kelvins.value)},
            {"low", difference(kelvins.low)},
            {"high", difference(kelvins.high)}};
  }
  Json reading(const call::Estimate& celsius) const {
    return {{"value", reading(celsius.value)},
            {"low", reading(celsius.low)},
            {"high", reading(celsius.high)}};
  }
  static Json plain(const call::Estimate& one, int decimals = 3) {
    return {{"value", json_number(one.value, decimals)},
            {"low", json_number(one.low, decimals)},
            {"high", json_number(one.high, decimals)}};
  }

  static Json names(const std::vector<std::string>& some) {
    Json all = Json::array();
    for (const auto& name : some) all.push_back(report::clean_name(name));
    return all;
  }

  Json grid(const lay::Grid& kelvins) const {
    Json rows = Json::array();
    for (const auto& row : kelvins) {
      Json cells = Json::array();
      for (const double value : row)
        cells.push_back(json_number(TemperatureDelta::from_kelvins(value).in(view_.call.scale), 2));
      rows.push_back(std::move(cells));
    }
    return rows;
  }

  Json extreme(const lay::Extreme& one) const {
    return {{"x", length(one.place.x_m)},        {"y", length(one.place.y_m)},
            {"value", difference(one.run_k)},    {"sd", difference(one.sd_k)},
            {"chance", json_number(one.chance)}, {"within_m", length(one.within_m)}};
  }

  Json band(const lay::Within& one) const {
    return {{"band", difference(one.band_k)},
            {"around", one.around == lay::Within::Around::level ? "level" : "set point"},
            {"center", reading(one.center_c)}};
  }

  Json grate(const lay::GrateLay& one) const {
    Json all = {{"grate", report::clean_name(one.grate)},
                {"z", length(one.z_m)},
                {"x0", length(one.x0_m)},
                {"y0", length(one.y0_m)},
                {"width", length(one.width_m)},
                {"depth", length(one.depth_m)}};
    all["x"] = all["y"] = Json::array();
    for (const double x : one.x_m) all["x"].push_back(length(x));
    for (const double y : one.y_m) all["y"].push_back(length(y));
    all["value"] = grid(one.value_k);
    all["sd"] = grid(one.sd_k);
    all["hottest"] = extreme(one.hottest);
    all["coolest"] = extreme(one.coolest);
    all["within"] = band(one.within);
    all["within"]["share"] = json_number(one.within.share.value);
    all["within"]["low"] = json_number(one.within.share.low);
    all["within"]["high"] = json_number(one.within.share.high);
    all["usable"] = nullptr;
    if (one.usable)
      all["usable"] = {{"x_low", length(one.usable->x_low_m)},
                       {"x_high", length(one.usable->x_high_m)},
                       {"y_low", length(one.usable->y_low_m)},
                       {"y_high", length(one.usable->y_high_m)},
                       {"share", json_number(one.usable->area_share)},
                       {"chance", json_number(one.usable->chance)}};
    return all;
  }

  /// Of all grates together, by their area.
  Json within(const lay::SettingLay& told) const {
    double area = 0.0, inside = 0.0;
    for (const auto& one : told.grates) {
      area += one.width_m * one.depth_m;
      inside += one.width_m * one.depth_m * one.within.share.value;
    }
    Json all = band(told.grates.front().within);
    all["share"] = json_number(inside / area);
    return all;
  }

  Json dial(const DialFor& one) const {
    Json all = {{"where", one.where}, {"why", one.answer ? "" : one.answer.error().what}};
    const auto* answer = one.answer ? &*one.answer : nullptr;
    all["set"] = answer != nullptr ? reading(answer->set_c) : Json(nullptr);
    all["outside"] = answer != nullptr ? reading(answer->outside_c) : Json(nullptr);
    all["ratio"] = answer != nullptr ? plain(answer->ratio, 4) : Json(nullptr);
    all["per_outside"] = answer != nullptr ? json_number(answer->per_outside_k) : Json(nullptr);
    all["place_sd"] = answer != nullptr ? difference(answer->place_sd_k) : Json(nullptr);
    all["text"] = dial_text(one, view_.call.scale);
    return all;
  }

  Json dials(std::size_t setting) const {
    if (view_.dials[setting].empty()) return nullptr;
    Json all = {{"wanted", reading(view_.dials[setting].front().wanted_c)},
                {"answers", Json::array()}};
    for (const auto& one : view_.dials[setting]) all["answers"].push_back(dial(one));
    return all;
  }

  Json uniformity(const std::optional<lay::Uniformity>& made) const {
    if (!made) return nullptr;
    const auto& [iec, ams, astm, spots, few] = *made;
    Json all = {{"spots", spots}, {"fewer_than_nine", few}};
    all["iec_60068_3_5"] = {
        {"achieved", reading(iec.achieved_c)},
        {"gradient", difference(iec.gradient_k)},
        {"worst_fluctuation", difference(iec.worst_fluctuation_k)},
        {"indicated_error",
         iec.indicated_error_k ? difference(*iec.indicated_error_k) : Json(nullptr)}};
    all["ams2750"] = {{"worst", difference(ams.worst_k)},
                      {"class", ams.furnace_class ? Json(*ams.furnace_class) : Json(nullptr)},
                      {"class_sure", ams.class_sure ? Json(*ams.class_sure) : Json(nullptr)}};
    all["astm_e145"] = {{"percent", plain(astm.percent, 2)},
                        {"type", astm.type.empty() ? Json(nullptr) : Json(astm.type)},
                        {"outside_assumed", astm.outside_assumed}};
    all["caution"] = uniformity_caution(*made);
    return all;
  }

  Json setting(int index) const {
    const auto s = static_cast<std::size_t>(index);
    const auto& told = view_.lay.settings[s];
    Json all = {{"setting", setting_name(view_, index)}, {"level", reading(told.level_c)}};
    all["grates"] = Json::array();
    for (const auto& one : told.grates) all["grates"].push_back(grate(one));
    all["within"] = within(told);
    all["set_point_for"] = dials(s);
    all["uniformity"] = uniformity(view_.uniformity[s]);
    return all;
  }

  Json difference_of(const lay::DifferenceLay& one) const {
    Json all = {{"from", setting_name(view_, one.from)}, {"to", setting_name(view_, one.to)}};
    all["grates"] = Json::array();
    for (const auto& on : one.grates)
      all["grates"].push_back({{"grate", report::clean_name(on.grate)},
                               {"value", grid(on.value_k)},
                               {"sd", grid(on.sd_k)}});
    return all;
  }

  Json spot(const lay::LaySpot& one) const {
    Json all = {{"spot", report::clean_name(one.spot)},
                {"channel", report::clean_name(one.channel)},
                {"grate", report::clean_name(one.grate)},
                {"x", length(one.place.x_m)},
                {"y", length(one.place.y_m)},
                {"z", length(one.place.z_m)},
                {"in_level", one.in_level}};
    all["by_setting"] = Json::object();
    for (int s = 0; s < std::ssize(one.by_setting); ++s) {
      const auto& run = one.by_setting[static_cast<std::size_t>(s)];
      all["by_setting"][setting_name(view_, s)] = {
          {"value", run ? difference(run->run_k) : Json(nullptr)},
          {"sd", run ? difference(run->sd_k) : Json(nullptr)}};
    }
    return all;
  }

  Json asked() const {
    Json all = Json::array();
    for (const auto& place : view_.asked)
      for (const auto& at : place.at)
        all.push_back(
            {{"x", length(place.place.x_m)},
             {"y", length(place.place.y_m)},
             {"grate", report::clean_name(place.grate)},
             {"setting", setting_name(view_, at.setting)},
             {"value", difference(at.run_k)},
             {"sd", difference(at.sd_k)},
             {"low", difference(at.low_k)},
             {"high", difference(at.high_k)},
             {"air", reading(call::Estimate{at.celsius, at.celsius_low, at.celsius_high})}});
    return all;
  }

  Json left_out(const lay::LeftOut& one) const {
    return {{"spot", report::clean_name(view_.lay.spots[static_cast<std::size_t>(one.spot)].spot)},
            {"setting", setting_name(view_, one.setting)},
            {"measured", difference(one.measured_k)},
            {"predicted", difference(one.predicted_k)},
            {"sd", difference(one.sd_k)},
            {"low", difference(one.low_k)},
            {"high", difference(one.high_k)}};
  }

  Json scales() const {
    const auto& told = view_.lay.scales;
    return {{"size", difference(told.size_k)},       {"tilt", difference(told.tilt_k)},
            {"local", difference(told.local_k)},     {"length_x_m", plain(told.length_m[0])},
            {"length_y_m", plain(told.length_m[1])}, {"length_z_m", plain(told.length_m[2])},
            {"own_share", plain(told.own_share)}};
  }

  const LayView& view_;
};

}  // namespace

std::string lay_json(const LayView& view) {
  return Writer(view).document().dump() + "\n";
}

}  // namespace pitwright::mapped
