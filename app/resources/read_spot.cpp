#include "resources/read_spot.h"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

namespace pitwright::resources {
namespace {

const std::array<std::pair<std::string_view, Role>, 7> roles = {{{"air", Role::air},
                                                                 {"dial", Role::dial},
                                                                 {"food", Role::food},
                                                                 {"outside", Role::outside},
                                                                 {"wind", Role::wind},
                                                                 {"drive", Role::drive},
                                                                 {"set", Role::set}}};

}  // namespace

Result<db::Placement> read_spot(http::Body body, std::optional<db::Stamp> from) {
  db::Placement placement;
  for (const char* key : {"name", "channel", "role"}) body.require(key);
  placement.spot = body.text("name").value_or("");
  placement.channel = body.text("channel").value_or("");
  placement.grate = body.text("grate").value_or("");
  placement.piece = body.text("piece").value_or("");
  placement.x_m = body.number("x_m");
  placement.y_m = body.number("y_m");
  placement.z_m = body.number("z_m");
  placement.from = from;
  const auto role = body.text("role").value_or("");
  const auto found = std::ranges::find(roles, role, &std::pair<std::string_view, Role>::first);
  if (found == roles.end())
    body.wrong("role", "expected air, dial, food, outside, wind, drive or set");
  else
    placement.role = found->second;
  if (placement.channel.empty()) body.wrong("channel", "is empty");
  for (const auto& [name, value] :
       {std::pair{"x_m", placement.x_m}, {"y_m", placement.y_m}, {"z_m", placement.z_m}})
    if (value && (*value < -1.0 || *value > 30.0))
      body.wrong(name, "expected metres inside the chamber");
  if (auto finished = body.finish(); !finished) return std::unexpected(finished.error());
  return placement;
}

Result<std::vector<db::Placement>> read_spots(std::vector<http::Body> bodies,
                                              std::optional<db::Stamp> from) {
  std::vector<db::Placement> placements;
  for (auto& body : bodies) {
    auto placement = read_spot(std::move(body), from);
    if (!placement) return std::unexpected(placement.error());
    placements.push_back(std::move(*placement));
  }
  return placements;
}

}  // namespace pitwright::resources
