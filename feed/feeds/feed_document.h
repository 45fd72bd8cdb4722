#pragma once

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "logs/log.h"
#include "payload/payload_spec.h"

namespace pitwright::feed {

/// A topic filter and how its payloads are written.
struct MqttTopic {
  std::string filter;
  PayloadSpec payload;
};

enum class MqttVersion { v311, v5 };

/// Where a broker is and how to speak with it.
struct BrokerPlace {
  std::string host;
  int port = 1883;
  bool tls = false;
  MqttVersion version = MqttVersion::v5;
  std::string client;        ///< id of the session that the broker keeps for us; empty: made of the
                             ///< names of computer and source
  std::filesystem::path ca;  ///< certificates that may have signed the broker's; empty: the
                             ///< system's
  std::string user;
  std::filesystem::path password_file;
  std::string password_env;  ///< name of the variable
};

/// `[[mqtt]]`.
struct MqttFeed {
  std::string name, prefix;
  BrokerPlace broker;
  std::vector<MqttTopic> topics;
};

/// `[[file]]`: a log that is being written.
struct FileFeed {
  std::string name, prefix;
  std::filesystem::path file;
  logs::Hints hints;
};

/// `[[sensors]]`: thermometers that Linux drives.
struct SensorsFeed {
  std::string name, prefix;
  std::filesystem::path root = "/sys";
  std::chrono::milliseconds every{2000};
};

/// `[[hand]]`: readings typed at the terminal.
struct HandFeed {
  std::string name, prefix;
  logs::ChannelUnit unit = logs::ChannelUnit::unknown;
  std::string timezone;
};

/// `[[http]]`: how the lines are written that a logger posts to the server.
struct HttpFeed {
  std::string name, prefix;
  PayloadSpec payload;
};

/// `[[channel]]`: another name for a channel.
struct ChannelName {
  std::string from, name;
};

/// feed.toml, read. Paths in it are relative to its folder and resolved here.
struct FeedDocument {
  std::vector<MqttFeed> mqtt;
  std::vector<FileFeed> files;
  std::vector<SensorsFeed> sensors;
  std::vector<HandFeed> hand;
  std::vector<HttpFeed> http;
  std::vector<ChannelName> channels;
  logs::ChannelUnit unit = logs::ChannelUnit::unknown;  ///< of bare numbers
  std::string timezone;                                 ///< of stamps without an offset
  bool leave_unknown = false;  ///< channels that no [[channel]] names are not stored
};

/// Reads a feed.toml; see docs/reference/feed.md.
/// Fails: not_found; bad_input with file, line, column and the nearest known name.
Result<FeedDocument> read_feed(const std::filesystem::path& path);

/// The same from text; `folder` is where relative paths start.
Result<FeedDocument> parse_feed(std::string_view text, std::string_view file,
                                const std::filesystem::path& folder);

/// "mqtt://host:port" or "mqtts://host": host, port and whether TLS. Fails: bad_input, also for a
/// password in it.
Result<BrokerPlace> parse_broker(std::string_view text);

/// Whether a topic filter is well formed: '+' a whole level, '#' the last one (MQTT 5.0
/// section 4.7.1).
bool is_topic_filter(std::string_view filter);

}  // namespace pitwright::feed
