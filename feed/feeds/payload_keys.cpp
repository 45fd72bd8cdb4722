#include "feeds/payload_keys.h"

#include <algorithm>
#include <optional>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "documents/nearest.h"
#include "documents/zones.h"
#include "logs/unit_words.h"

namespace pitwright::feed {
namespace {

const std::vector<std::string> kinds{"auto", "number", "json", "csv"};

/// A selector where a text stands; '' means "not told" everywhere, so it must not be empty.
std::optional<Selector> selector_of(documents::TableReader& keys, std::string_view key) {
  const auto text = keys.text(key);
  if (!text) return std::nullopt;
  auto selector = Selector::parse(*text);
  if (selector) return *selector;
  keys.wrong(key, fmt::format("'{}': {}", key, selector.error().what));
  return std::nullopt;
}

/// channels = { A1 = "/probes/0/temp" }, or a list of columns of a csv line.
void read_channels(documents::TableReader& keys, PayloadSpec& spec) {
  const auto* value = keys.value("channels");
  if (value == nullptr) return;
  const auto* table = std::get_if<documents::Table>(&value->of);
  if (table == nullptr || table->entries.empty()) {
    keys.wrong("channels",
               "'channels' expects names and their places in JSON, such as { A1 = \"/t1\" }");
    return;
  }
  for (const auto& entry : table->entries) {
    const auto* text = std::get_if<std::string>(&entry.value.of);
    auto at = text != nullptr ? Selector::parse(*text)
                              : Result<Selector>(fail(ErrorKind::bad_input,
                                                      "expects a place in JSON such as \"/t1\""));
    if (!at) {
      keys.wrong("channels", fmt::format("'channels', {}: {}", entry.key, at.error().what));
      return;
    }
    spec.channels.push_back({entry.key, std::move(*at)});
  }
}

void check(documents::TableReader& keys, const PayloadSpec& spec) {
  if (spec.value && !spec.name && spec.channel.empty()) {
    keys.wrong("value", "'value' needs 'name', the place of the channel's name, or 'channel'");
  }
  if (spec.name && !spec.value) keys.wrong("name", "'name' needs 'value', the place of the number");
  if (!spec.channels.empty() && (spec.name || spec.value)) {
    keys.wrong("channels", "give 'channels', or 'name' and 'value', not both");
  }
  if (spec.kind == PayloadKind::csv && spec.columns.empty()) {
    keys.wrong("payload", "payload = \"csv\" needs 'columns', such as [\"time\", \"A1\", \"-\"]");
  }
}

}  // namespace

logs::ChannelUnit unit_of(documents::TableReader& keys, logs::ChannelUnit otherwise) {
  const auto text = keys.text("unit");
  if (!text) return otherwise;
  const auto unit = logs::unit_of_word(*text);
  if (unit && *unit != logs::ChannelUnit::other) return *unit;
  keys.wrong("unit", fmt::format("'unit' expects \"F\", \"C\", \"K\", \"%\" or a unit of wind such "
                                 "as \"km/h\", not \"{}\"",
                                 *text));
  return otherwise;
}

std::string timezone_of(documents::TableReader& keys, const std::string& otherwise) {
  const auto zone = keys.text("timezone");
  if (!zone) return otherwise;
  if (documents::is_known_zone(*zone)) return *zone;
  keys.wrong("timezone", fmt::format("unknown time zone '{}'{}", *zone,
                                     documents::suggestion(*zone, documents::zone_names())));
  return otherwise;
}

PayloadSpec payload_of(documents::TableReader& keys, const FeedDefaults& defaults) {
  PayloadSpec spec;
  if (const auto kind = keys.word("payload", kinds)) spec.kind = static_cast<PayloadKind>(*kind);
  spec.channel = keys.text("channel").value_or("");
  spec.each = selector_of(keys, "each");
  spec.time = selector_of(keys, "time");
  spec.name = selector_of(keys, "name");
  spec.value = selector_of(keys, "value");
  read_channels(keys, spec);
  spec.columns = keys.texts("columns").value_or(std::vector<std::string>{});
  spec.unit = unit_of(keys, defaults.unit);
  spec.timezone = timezone_of(keys, defaults.timezone);
  check(keys, spec);
  return spec;
}

}  // namespace pitwright::feed
