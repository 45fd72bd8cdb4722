#include "resources/read_words.h"

#include "units/parse.h"

namespace pitwright::resources {

std::optional<Temperature> read_set_point(http::Body& body) {
  const auto text = body.text("set_point");
  if (!text) return std::nullopt;
  const auto set_point = parse_temperature(*text, std::nullopt);
  if (set_point) return *set_point;
  body.wrong("set_point", "expected a temperature with its unit, such as \"275 F\"");
  return std::nullopt;
}

std::optional<TemperatureDelta> read_matters(http::Body& body) {
  const auto text = body.text("matters");
  if (!text) return std::nullopt;
  const auto matters = parse_temperature_delta(*text, std::nullopt);
  if (matters && matters->kelvins() > 0.0) return *matters;
  body.wrong("matters", "expected a difference with its unit, above nothing, such as \"10 F\"");
  return std::nullopt;
}

}  // namespace pitwright::resources
