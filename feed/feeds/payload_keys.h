#pragma once

#include "documents/table_reader.h"
#include "payload/payload_spec.h"

namespace pitwright::feed {

/// What holds for a whole feed.toml unless a table says otherwise.
struct FeedDefaults {
  logs::ChannelUnit unit = logs::ChannelUnit::unknown;
  std::string timezone;
};

/// The keys that say how payloads are written.
PayloadSpec payload_of(documents::TableReader& keys, const FeedDefaults& defaults);

/// `unit` and `timezone` of a table.
logs::ChannelUnit unit_of(documents::TableReader& keys, logs::ChannelUnit otherwise);
std::string timezone_of(documents::TableReader& keys, const std::string& otherwise);

}  // namespace pitwright::feed
