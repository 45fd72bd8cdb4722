#include "http/json_text.h"

#include <nlohmann/json.hpp>

namespace pitwright::http {

nlohmann::json parse_json(std::string_view text) {
  constexpr int deepest = 16;
  using Json = nlohmann::json;
  bool too_deep = false;
  const auto watch = [&](int depth, Json::parse_event_t, Json&) {
    too_deep = too_deep || depth > deepest;
    return !too_deep;
  };
  auto json = Json::parse(text, watch, false);
  return too_deep ? Json(Json::value_t::discarded) : json;
}

}  // namespace pitwright::http
