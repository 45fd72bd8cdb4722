#include "http/replies.h"
#include "live/watch.h"
#include "report/call_json.h"
#include "resources/asked_call.h"
#include "resources/resources.h"

namespace pitwright::resources {

using http::json_reply;
using http::trouble;

Result<AskedCall> worked_call(const Asked& asked) {
  auto standing = asked_burn(asked);
  if (!standing) return std::unexpected(standing.error());
  const auto scale = asked_scale(asked, standing->line.scale);
  if (!scale) return std::unexpected(scale.error());
  const auto which = asked_call(asked, *standing->burn);
  if (!which) return std::unexpected(which.error());
  auto call = asked.desk.worked.call(*standing, *which);
  return AskedCall{std::move(*standing), *scale, std::move(call)};
}

wire::Answer get_fire(const Asked& asked) {
  const auto work = worked_call(asked);
  if (!work) return trouble(work.error());
  return json_reply(
      live::fire_document(work->standing, *work->call, work->scale, asked.desk.now()));
}

wire::Answer get_call(const Asked& asked) {
  const auto work = worked_call(asked);
  if (!work) return trouble(work.error());
  if (!work->call->made) return trouble(work->call->made.error());
  return json_reply(report::call_json(work->view()));
}

}  // namespace pitwright::resources
