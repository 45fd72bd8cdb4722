#include <array>

#include <fmt/format.h>

#include "access/gate.h"
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

constexpr std::size_t most_spots = 256;

/// Places as records; their ids begin with `id`.
Result<std::vector<db::Record>> spot_records(std::vector<Body> bodies,
                                             std::optional<db::Stamp> from, const Asked& asked,
                                             const std::string& id, db::Stamp written) {
  auto placements = read_spots(std::move(bodies), from);
  if (!placements) return std::unexpected(placements.error());
  std::vector<db::Record> records;
  for (auto& placement : *placements)
    records.push_back({fmt::format("{}-{}", id, records.size()), "", asked.visitor.name, written,
                       std::move(placement), 0});
  return records;
}

Result<Pit> pit_named(db::Store& store, const std::string& name) {
  const auto pits = store.pits();
  if (!pits) return std::unexpected(pits.error());
  for (const auto& known : *pits)
    if (known.pit.name == name) return known.pit;
  return fail(ErrorKind::not_found, "there is no pit '{}'; draw it first", name);
}

/// A new burn and its first records: where the thermometers sit and which setting the pit is at.
struct ToLight {
  db::NewBurn burn;
  std::vector<db::Record> records;
};

Result<ToLight> read_new_burn(const Asked& asked) {
  auto body = Body::object(asked.request.body);
  if (!body) return std::unexpected(body.error());
  for (const char* key : {"id", "title", "unit", "matters"}) body->require(key);
  ToLight light;
  auto& burn = light.burn;
  burn.name = body->text("id", 64).value_or("");
  burn.title = body->text("title").value_or("");
  const auto unit = body->text("unit").value_or("F");
  if (unit != "F" && unit != "C") body->wrong("unit", "expected F or C");
  burn.scale = unit == "C" ? Scale::celsius : Scale::fahrenheit;
  burn.matters = read_matters(*body);
  burn.lit = body->stamp("begun").value_or(asked.desk.now());
  const auto pit = body->text("pit");
  const auto setting = body->text("setting");
  auto spots = body->objects("spots", most_spots);
  if (db::BurnLine line; link_of((line.name = burn.name, line)) != burn.name)
    body->wrong("id", "expected 1 to 64 letters, digits, - or _");
  if (auto finished = body->finish(); !finished) return std::unexpected(finished.error());
  if (pit) {
    auto known = pit_named(asked.desk.store, *pit);
    if (!known) return std::unexpected(known.error());
    burn.pit = std::move(*known);
  }
  auto records = spot_records(spots ? std::move(*spots) : std::vector<Body>(), std::nullopt, asked,
                              "spot", burn.lit);
  if (!records) return std::unexpected(records.error());
  light.records = std::move(*records);
  if (setting)
    light.records.push_back(
        {"setting-0", "", asked.visitor.name, burn.lit, db::Turn{*setting, {}, burn.lit, {}}, 0});
  return light;
}

wire::Answer burn_reply(const Asked& asked, const std::string& name, int status) {
  const auto standing = asked.desk.worked.burn(name);
  if (!standing) return trouble(standing.error());
  const auto scale = asked_scale(asked, standing->line.scale);
  if (!scale) return trouble(scale.error());
  auto json = burn_json(asked.desk.store, *standing, *scale);
  if (!json) return trouble(json.error());
  return json_reply(std::move(*json), status);
}

}  // namespace

wire::Answer get_burns(const Asked& asked) {
  const auto lines = asked.desk.store.burns();
  if (!lines) return trouble(lines.error());
  return json_reply(burns_json(*lines));
}

wire::Answer post_burns(const Asked& asked) {
  const auto light = read_new_burn(asked);
  if (!light) return trouble(light.error());
  auto& store = asked.desk.store;
  const auto found = store.find(light->burn.name);
  const bool was_there = found && found->name == light->burn.name;
  // Burn and records carry their own names: after a reply that was lost, all may be told again.
  const auto id = store.light(light->burn);
  if (!id) return trouble(id.error());
  if (const auto told = store.tell(*id, light->records); !told) return trouble(told.error());
  return burn_reply(asked, light->burn.name, was_there ? 200 : 201);
}

wire::Answer get_burn(const Asked& asked) {
  return burn_reply(asked, asked.names.at("burn"), 200);
}

wire::Answer patch_burn(const Asked& asked) {
  auto& store = asked.desk.store;
  const auto line = store.find(asked.names.at("burn"));
  if (!line) return trouble(line.error());
  auto body = Body::object(asked.request.body);
  if (!body) return trouble(body.error());
  const auto now = asked.desk.now();
  const auto id = fmt::format("{}", now.time_since_epoch().count());
  db::Heading heading;
  heading.title = body->text("title");
  if (const auto matters = read_matters(*body)) heading.matters_k = matters->kelvins();
  if (const auto set_point = read_set_point(*body)) heading.set_point_c = set_point->celsius();
  const bool close = body->truth("close").value_or(false);
  auto spots = body->objects("spots", most_spots);
  if (auto finished = body->finish(); !finished) return trouble(finished.error());
  auto records =
      spot_records(spots ? std::move(*spots) : std::vector<Body>(), now, asked, "spot-" + id, now);
  if (!records) return trouble(records.error());
  if (heading != db::Heading())
    records->push_back({"heading-" + id, "", asked.visitor.name, now, heading, 0});
  if (!records->empty())
    if (const auto told = store.tell(line->id, *records); !told) return trouble(told.error());
  if (close)
    if (const auto closed = store.close(line->id, now); !closed) return trouble(closed.error());
  return burn_reply(asked, asked.names.at("burn"), 200);
}

}  // namespace pitwright::resources
