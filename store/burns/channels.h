#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "base/result.h"
#include "documents/burn_document.h"
#include "logs/log.h"

namespace pitwright::burns {

/// Where a channel is: index into the logs, index into its channels.
struct ChannelIndex {
  std::size_t log = 0;
  std::size_t channel = 0;

  friend bool operator==(ChannelIndex, ChannelIndex) = default;
};

/// Finds "A1", or "grate.csv:A1" where two logs share a name. `log` restricts the search to one.
/// Fails: bad_input with the nearest names of the logs; the caller puts file and line before it.
Result<ChannelIndex> find_channel(const documents::BurnDocument& document,
                                  std::span<const logs::Log> logs, std::string_view name,
                                  std::optional<std::size_t> log = {});

/// First and last stamp over all channels [ms on the logger's own clock].
struct StampRange {
  std::int64_t first_ms = 0;
  std::int64_t last_ms = 0;
};

/// Empty where the log has no stamp at all.
std::optional<StampRange> stamp_range(const logs::Log& log);

}  // namespace pitwright::burns
