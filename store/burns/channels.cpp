#include "burns/channels.h"

#include <algorithm>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "documents/nearest.h"

namespace pitwright::burns {
namespace {

/// Every channel that `name` means: by its own name, or as "file:name".
std::vector<ChannelIndex> matches_of(const documents::BurnDocument& document,
                                     std::span<const logs::Log> logs, std::string_view name,
                                     std::optional<std::size_t> only) {
  std::vector<ChannelIndex> found;
  for (std::size_t l = 0; l < logs.size(); ++l) {
    if (only && *only != l) continue;
    for (std::size_t c = 0; c < logs[l].channels.size(); ++c) {
      const auto& own = logs[l].channels[c].name;
      if (own == name || document.logs[l].file + ":" + own == name) found.push_back({l, c});
    }
  }
  return found;
}

}  // namespace

Result<ChannelIndex> find_channel(const documents::BurnDocument& document,
                                  std::span<const logs::Log> logs, std::string_view name,
                                  std::optional<std::size_t> log) {
  const auto found = matches_of(document, logs, name, log);
  if (found.size() == 1) return found.front();
  if (found.size() > 1) {
    std::vector<std::string> full;
    for (const auto& index : found) {
      full.push_back(fmt::format("\"{}:{}\"", document.logs[index.log].file, name));
    }
    return fail(ErrorKind::bad_input, "more than one log has a channel '{}'; write {}", name,
                fmt::join(full, " or "));
  }
  std::vector<std::string> known;
  for (std::size_t l = 0; l < logs.size(); ++l) {
    if (log && *log != l) continue;
    for (const auto& channel : logs[l].channels) known.push_back(channel.name);
    if (name.find(':') == name.npos) continue;
    for (const auto& channel : logs[l].channels) {
      known.push_back(document.logs[l].file + ":" + channel.name);
    }
  }
  return fail(ErrorKind::bad_input, "no log has a channel '{}'{}", name,
              documents::suggestion(name, known));
}

std::optional<StampRange> stamp_range(const logs::Log& log) {
  std::optional<StampRange> range;
  for (const auto& channel : log.channels) {
    if (channel.ms.empty()) continue;
    const StampRange own{channel.ms.front(), channel.ms.back()};
    range = range ? StampRange{std::min(range->first_ms, own.first_ms),
                               std::max(range->last_ms, own.last_ms)}
                  : own;
  }
  return range;
}

}  // namespace pitwright::burns
