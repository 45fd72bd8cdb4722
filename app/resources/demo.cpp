#include "live/demo.h"

#include "http/body.h"
#include "http/replies.h"
#include "resources/asking.h"
#include "resources/burn_json.h"
#include "resources/resources.h"

namespace pitwright::resources {

wire::Answer post_demo(const Asked& asked) {
  auto body = http::Body::object(asked.request.body);
  if (!body) return http::trouble(body.error());
  const bool is_live = body->truth("live").value_or(false);
  const double speed = body->number("speed").value_or(60.0);
  if (speed < 1.0 || speed > 600.0) body->wrong("speed", "expected 1 to 600");
  if (const auto finished = body->finish(); !finished) return http::trouble(finished.error());
  auto& store = asked.desk.store;
  const auto name =
      is_live ? asked.desk.demo.start(store, speed, asked.desk.now()) : live::keep_demo(store);
  if (!name) return http::trouble(name.error());
  const auto standing = asked.desk.worked.burn(*name);
  if (!standing) return http::trouble(standing.error());
  auto json = burn_json(store, *standing, standing->line.scale);
  if (!json) return http::trouble(json.error());
  return http::json_reply(std::move(*json), 201);
}

}  // namespace pitwright::resources
