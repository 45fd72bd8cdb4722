#include "http/body.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "http/json_text.h"
#include "http/stamps.h"

namespace pitwright::http {

using Json = nlohmann::json;

struct Body::Inside {
  Json json;
  std::string where;  ///< "" or "[3]: ", in front of a mistake
  std::set<std::string, std::less<>> known;
  std::optional<std::string> mistake;
};

Result<Body> Body::object(std::string_view text) {
  auto json = parse_json(text);
  if (!json.is_object()) return fail(ErrorKind::bad_input, "the body must be one JSON object");
  return Body(std::make_shared<Inside>(Inside{std::move(json), "", {}, {}}));
}

Result<std::vector<Body>> Body::list(std::string_view text, std::size_t most) {
  auto json = parse_json(text);
  if (!json.is_array()) return fail(ErrorKind::bad_input, "the body must be a JSON list");
  if (json.size() > most)
    return fail(ErrorKind::bad_input, "at most {} entries at once, not {}", most, json.size());
  std::vector<Body> bodies;
  for (auto& one : json) {
    const auto where = fmt::format("[{}]: ", bodies.size());
    if (!one.is_object()) return fail(ErrorKind::bad_input, "{}must be a JSON object", where);
    bodies.push_back(Body(std::make_shared<Inside>(Inside{std::move(one), where, {}, {}})));
  }
  return bodies;
}

bool Body::has(std::string_view key) const {
  const auto found = inside_->json.find(key);
  return found != inside_->json.end() && !found->is_null();
}

void Body::wrong(std::string_view key, std::string_view expected) {
  if (!inside_->mistake) inside_->mistake = fmt::format("{}{}: {}", inside_->where, key, expected);
}

void Body::require(std::string_view key) {
  if (!has(key)) wrong(key, "is missing");
}

std::optional<std::string> Body::text(std::string_view key, std::size_t most_bytes) {
  inside_->known.emplace(key);
  if (!has(key)) return std::nullopt;
  const auto& value = *inside_->json.find(key);
  if (!value.is_string()) {
    wrong(key, "expected a text");
    return std::nullopt;
  }
  auto text = value.get<std::string>();
  if (text.size() > most_bytes) wrong(key, fmt::format("expected at most {} bytes", most_bytes));
  if (std::ranges::any_of(text, [](unsigned char c) { return c < 0x20 || c == 0x7f; }))
    wrong(key, "expected no control characters");
  return text;
}

std::optional<double> Body::number(std::string_view key) {
  inside_->known.emplace(key);
  if (!has(key)) return std::nullopt;
  const auto& value = *inside_->json.find(key);
  if (!value.is_number() || !std::isfinite(value.get<double>())) {
    wrong(key, "expected a number");
    return std::nullopt;
  }
  return value.get<double>();
}

std::optional<bool> Body::truth(std::string_view key) {
  inside_->known.emplace(key);
  if (!has(key)) return std::nullopt;
  const auto& value = *inside_->json.find(key);
  if (!value.is_boolean()) {
    wrong(key, "expected true or false");
    return std::nullopt;
  }
  return value.get<bool>();
}

std::optional<db::Stamp> Body::stamp(std::string_view key) {
  const auto written = text(key);
  if (!written) return std::nullopt;
  const auto stamp = parse_stamp(*written);
  if (!stamp) {
    wrong(key, stamp.error().what);
    return std::nullopt;
  }
  return *stamp;
}

std::optional<std::vector<std::string>> Body::texts(std::string_view key) {
  inside_->known.emplace(key);
  if (!has(key)) return std::nullopt;
  const auto& value = *inside_->json.find(key);
  std::vector<std::string> texts;
  if (!value.is_array() ||
      !std::ranges::all_of(value, [](const Json& one) { return one.is_string(); })) {
    wrong(key, "expected a list of texts");
    return std::nullopt;
  }
  for (const auto& one : value) texts.push_back(one.get<std::string>());
  return texts;
}

std::optional<std::vector<Body>> Body::objects(std::string_view key, std::size_t most) {
  inside_->known.emplace(key);
  if (!has(key)) return std::nullopt;
  auto bodies =
      list(inside_->json.find(key)->dump(-1, ' ', false, Json::error_handler_t::replace), most);
  if (!bodies) {
    wrong(key, bodies.error().what);
    return std::nullopt;
  }
  for (auto& body : *bodies)
    body.inside_->where = fmt::format("{}{}{}", inside_->where, key, body.inside_->where);
  return std::move(*bodies);
}

Result<void> Body::finish() const {
  if (inside_->mistake) return fail(ErrorKind::bad_input, "{}", *inside_->mistake);
  for (const auto& [key, value] : inside_->json.items())
    if (!inside_->known.contains(key))
      return fail(ErrorKind::bad_input, "{}'{}' is not a key that is known here", inside_->where,
                  key);
  return {};
}

}  // namespace pitwright::http
