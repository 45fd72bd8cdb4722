#include <charconv>

#include "http/replies.h"
#include "live/watch.h"
#include "resources/asking.h"
#include "resources/resources.h"

namespace pitwright::resources {

wire::Answer get_live(const Asked& asked) {
  const auto line = asked.desk.store.find(asked.names.at("burn"));
  if (!line) return http::trouble(line.error());
  const auto scale = asked_scale(asked, line->scale);
  if (!scale) return http::trouble(scale.error());
  wire::Subscription stream{live::topic_of(line->id, *scale), std::nullopt, {}};
  const auto seen = wire::header_value(asked.request, "last-event-id");
  std::uint64_t id = 0;
  if (std::from_chars(seen.data(), seen.data() + seen.size(), id).ec == std::errc())
    stream.after = id;
  return stream;
}

}  // namespace pitwright::resources
