
#include <nlohmann/json.hpp>

#include "report/json_values.h"
#include "report/text_width.h"
#include "understood/understood.h"

namespace pitwright::understood {
namespace {

using Json = nlohmann::ordered_json;
using report::json_number;

Json text(const std::string& any) {
  return report::clean_name(any);
}

Json channel_json(const ChannelView& channel) {
  return {{"channel", text(channel.name)},
          {"unit", channel.unit == "unknown" ? Json(nullptr) : Json(channel.unit)},
          {"unit_from", channel.unit_source == UnitSource::nobody
                            ? Json(nullptr)
                            : Json(std::string(name_of(channel.unit_source)))},
          {"readings", channel.readings},
          {"missing", channel.missing}};
}

Json clock_json(const std::optional<burns::LogClock>& clock) {
  if (!clock) return nullptr;
  return {{"offset_s", json_number(clock->offset_s)},
          {"drift_s_per_h", json_number(clock->drift_s_per_h)},
          {"uncertainty_s", json_number(clock->uncertainty_s)},
          {"how", text(clock->how)}};
}

Json log_json(const LogView& log) {
  Json json{{"log", text(log.file)},
            {"times", log.elapsed ? "elapsed" : "instants"},
            {"first", log.first},
            {"last", log.last},
            {"interval_s", json_number(log.interval_s)},
            {"rows", log.rows},
            {"rows_skipped", log.rows_skipped},
            {"skipped_total", log.skipped_total},
            {"duplicates", log.duplicates},
            {"out_of_order", log.out_of_order}};
  json["skipped"] = Json::array();
  for (const auto& skipped : log.skipped) {
    json["skipped"].push_back(
        {{"line", skipped.line},
         {"column", skipped.column == 0 ? Json(nullptr) : Json(skipped.column)},
         {"reason", text(skipped.reason)}});
  }
  json["clock"] = clock_json(log.clock);
  json["channels"] = Json::array();
  for (const auto& channel : log.channels) json["channels"].push_back(channel_json(channel));
  json["understood"] = Json::array();
  for (const auto& line : log.understood) json["understood"].push_back(text(line));
  return json;
}

}  // namespace

std::string json_of(const View& view) {
  Json json{{"burn", text(view.burn)},
            {"unit", view.unit ? Json(*view.unit == Scale::celsius ? "C" : "F") : Json(nullptr)},
            {"timezone", view.timezone.empty() ? Json(nullptr) : Json(view.timezone)}};
  json["logs"] = Json::array();
  for (const auto& log : view.logs) json["logs"].push_back(log_json(log));
  json["assumed"] = Json::array();
  for (const auto& line : view.assumed) json["assumed"].push_back(text(line));
  json["mistake"] = view.mistake ? text(view.mistake->what) : Json(nullptr);
  return json.dump(2) + "\n";
}

}  // namespace pitwright::understood
