#include "access/gate.h"
#include "http/replies.h"
#include "resources/asking.h"
#include "resources/resources.h"
#include "resources/taps.h"

namespace pitwright::resources {

using http::json_reply;
using http::trouble;

wire::Answer get_taps(const Asked& asked) {
  const auto line = asked.desk.store.find(asked.names.at("burn"));
  if (!line) return trouble(line.error());
  const auto records = asked.desk.store.records(line->id);
  if (!records) return trouble(records.error());
  return json_reply(taps_json(taps_of(*records)));
}

wire::Answer post_taps(const Asked& asked) {
  const auto line = asked.desk.store.find(asked.names.at("burn"));
  if (!line) return trouble(line.error());
  const auto taps = read_taps(asked.request.body, asked.visitor.name);
  if (!taps) return trouble(taps.error());
  if (const auto written = write_taps(asked.desk.store, line->id, *taps, asked.desk.now());
      !written)
    return trouble(written.error());
  return get_taps(asked);
}

wire::Answer post_undo(const Asked& asked) {
  const auto line = asked.desk.store.find(asked.names.at("burn"));
  if (!line) return trouble(line.error());
  const auto tap = undo_tap(asked.desk.store, line->id, asked.names.at("tap"), asked.visitor.name,
                            asked.desk.now());
  if (!tap) return trouble(tap.error());
  return json_reply(tap_json(*tap));
}

}  // namespace pitwright::resources
