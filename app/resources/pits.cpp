#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "http/body.h"
#include "http/replies.h"
#include "resources/asking.h"
#include "resources/burn_json.h"
#include "resources/read_spot.h"
#include "resources/read_words.h"
#include "resources/resources.h"

namespace pitwright::resources {

namespace {

using http::Body;
using http::json_reply;
using http::trouble;

constexpr std::size_t most_parts = 64;

std::optional<double> read_length(Body& body, std::string_view key) {
  const auto length = body.number(key);
  if (length && (*length <= 0.0 || *length > 30.0))
    body.wrong(key, "expected metres, above 0 and at most 30");
  return length;
}

Result<std::vector<Grate>> read_grates(std::vector<Body> bodies) {
  std::vector<Grate> grates;
  for (auto& body : bodies) {
    body.require("name");
    Grate grate{body.text("name").value_or(""), body.number("height_m")};
    if (auto finished = body.finish(); !finished) return std::unexpected(finished.error());
    grates.push_back(std::move(grate));
  }
  return grates;
}

Result<std::vector<Adjustment>> read_adjustments(std::vector<Body> bodies) {
  std::vector<Adjustment> adjustments;
  for (auto& body : bodies) {
    body.require("name");
    body.require("positions");
    Adjustment one{body.text("name").value_or(""),
                   body.texts("positions").value_or(std::vector<std::string>()), false};
    if (auto finished = body.finish(); !finished) return std::unexpected(finished.error());
    adjustments.push_back(std::move(one));
  }
  return adjustments;
}

Result<db::KnownPit> read_pit(const std::string& json) {
  auto body = Body::object(json);
  if (!body) return std::unexpected(body.error());
  body->require("name");
  body->text("id");
  db::KnownPit known;
  auto& pit = known.pit;
  pit.name = body->text("name", 64).value_or("");
  if (pit.name.empty()) body->wrong("name", "is empty");
  pit.width_m = read_length(*body, "width_m");
  pit.depth_m = read_length(*body, "depth_m");
  pit.height_m = read_length(*body, "height_m");
  pit.set_point = read_set_point(*body);
  auto grates = read_grates(body->objects("grates", most_parts).value_or(std::vector<Body>()));
  auto adjustments =
      read_adjustments(body->objects("adjustments", most_parts).value_or(std::vector<Body>()));
  auto spots =
      read_spots(body->objects("spots", most_parts).value_or(std::vector<Body>()), std::nullopt);
  if (auto finished = body->finish(); !finished) return std::unexpected(finished.error());
  if (!grates) return std::unexpected(grates.error());
  if (!adjustments) return std::unexpected(adjustments.error());
  if (!spots) return std::unexpected(spots.error());
  known.spots = std::move(*spots);
  pit.grates = std::move(*grates);
  pit.adjustments = std::move(*adjustments);
  return known;
}

wire::Answer pit_reply(const Asked& asked, const std::string& name) {
  const auto lines = asked.desk.store.pits();
  if (!lines) return trouble(lines.error());
  const auto found =
      std::ranges::find(*lines, name, [](const db::KnownPit& known) { return known.pit.name; });
  if (found == lines->end()) return trouble(404, fmt::format("there is no pit '{}'", name));
  return json_reply(pit_json(*found));
}

}  // namespace

wire::Answer get_pits(const Asked& asked) {
  const auto lines = asked.desk.store.pits();
  if (!lines) return trouble(lines.error());
  return json_reply(pits_json(*lines));
}

wire::Answer get_pit(const Asked& asked) {
  return pit_reply(asked, asked.names.at("pit"));
}

wire::Answer put_pit(const Asked& asked) {
  const auto pit = read_pit(asked.request.body);
  if (!pit) return trouble(pit.error());
  if (const auto kept = asked.desk.store.remember(*pit); !kept) return trouble(kept.error());
  return pit_reply(asked, pit->pit.name);
}

}  // namespace pitwright::resources
