#include "feeds/feed_document.h"

#include <algorithm>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "documents/nearest.h"
#include "documents/table_reader.h"
#include "documents/toml.h"
#include "feeds/payload_keys.h"

namespace pitwright::feed {
namespace {

using documents::TableReader;
const std::vector<std::string> versions{"3.1.1", "5"};
const std::vector<std::string> unknown_words{"take", "leave"};
const std::vector<std::string> date_names{"day-first", "month-first", "year-first"};

/// Reads one document; what all its tables share.
struct Reader {
  documents::Reading& reading;
  std::filesystem::path folder;
  FeedDefaults defaults;
  std::set<std::string> names;

  std::filesystem::path path_of(const std::string& text) const {
    const std::filesystem::path path(text);
    return path.is_absolute() || text.empty() ? path : folder / path;
  }

  /// Name and prefix; names tell sources apart in messages and in what is remembered of them.
  template <typename Feed>
  void head(TableReader& keys, Feed& feed, std::string_view kind) {
    feed.name = keys.text("name").value_or(std::string(kind));
    feed.prefix = keys.text("prefix").value_or("");
    const bool plain = std::ranges::all_of(feed.name, [](char c) {
      return static_cast<unsigned char>(c) > 0x20 && c != '/' && c != '.';
    });
    if (!plain) keys.wrong("name", "'name' of a source is one word without '/' and '.'");
    if (!names.insert(feed.name).second) {
      keys.wrong("name",
                 fmt::format("two sources are named '{}'; give each its own 'name'", feed.name));
    }
  }

  MqttTopic topic(const documents::Table& table) {
    TableReader keys(reading, table, "[[mqtt.topic]]");
    MqttTopic topic;
    keys.require("topic", "topic = \"pit/+/temperature\"");
    topic.filter = keys.text("topic").value_or("");
    if (!topic.filter.empty() && !is_topic_filter(topic.filter)) {
      keys.wrong("topic", fmt::format("\"{}\" is no topic filter: '+' stands for one whole level, "
                                      "'#' only at the end after '/'",
                                      topic.filter));
    }
    topic.payload = payload_of(keys, defaults);
    keys.finish();
    return topic;
  }

  void broker(TableReader& keys, MqttFeed& feed) {
    keys.require("broker", "broker = \"mqtt://192.168.1.20:1883\"");
    if (const auto text = keys.text("broker")) {
      if (const auto place = parse_broker(*text))
        feed.broker = *place;
      else
        keys.wrong("broker", place.error().what);
    }
    if (const auto version = keys.word("version", versions)) {
      feed.broker.version = *version == 0 ? MqttVersion::v311 : MqttVersion::v5;
    }
    feed.broker.client = keys.text("client").value_or("");
    feed.broker.ca = path_of(keys.text("ca").value_or(""));
    feed.broker.user = keys.text("user").value_or("");
    feed.broker.password_file = path_of(keys.text("password_file").value_or(""));
    feed.broker.password_env = keys.text("password_env").value_or("");
    if (keys.value("password") != nullptr) {
      keys.wrong("password",
                 "a password does not belong into this file; put it into a file of its "
                 "own and name that with 'password_file'");
    }
    if (!feed.broker.ca.empty() && !feed.broker.tls) {
      keys.wrong("ca", "'ca' goes with TLS: write the broker as mqtts://");
    }
    const bool secret = !feed.broker.password_file.empty() || !feed.broker.password_env.empty();
    if (secret && feed.broker.user.empty()) keys.require("user", "user = \"pit\"");
    if (!feed.broker.password_file.empty() && !feed.broker.password_env.empty()) {
      keys.wrong("password_env", "give 'password_file' or 'password_env', not both");
    }
  }

  MqttFeed mqtt(const documents::Table& table) {
    TableReader keys(reading, table, "[[mqtt]]");
    MqttFeed feed;
    head(keys, feed, "mqtt");
    broker(keys, feed);
    keys.require("topic", "a table [[mqtt.topic]]");
    for (const auto* one : keys.tables("topic")) feed.topics.push_back(topic(*one));
    keys.finish();
    return feed;
  }

  FileFeed file(const documents::Table& table) {
    TableReader keys(reading, table, "[[file]]");
    FileFeed feed;
    head(keys, feed, "file");
    keys.require("file", "file = \"/var/log/pit.csv\"");
    feed.file = path_of(keys.text("file").value_or(""));
    const auto unit = unit_of(keys, defaults.unit);
    if (unit == logs::ChannelUnit::fahrenheit) feed.hints.unit = "F";
    if (unit == logs::ChannelUnit::celsius) feed.hints.unit = "C";
    if (unit == logs::ChannelUnit::kelvin) feed.hints.unit = "K";
    feed.hints.timezone = timezone_of(keys, defaults.timezone);
    if (const auto order = keys.word("date", date_names)) {
      feed.hints.date = static_cast<logs::DateOrder>(*order);
    }
    feed.hints.offset = keys.elapsed("offset").value_or(Seconds(0));
    feed.hints.time_columns = keys.texts("time").value_or(std::vector<std::string>{});
    if (const auto zero = keys.time("zero")) {
      if (const auto* instant = std::get_if<Instant>(&zero->of)) feed.hints.zero = *instant;
      const auto* local = std::get_if<documents::LocalTime>(&zero->of);
      if (local != nullptr) {
        const auto found = documents::instant_of(*local, feed.hints.timezone);
        if (found)
          feed.hints.zero = *found;
        else
          keys.wrong("zero", fmt::format("'zero': {}", found.error().what));
      }
      if (std::holds_alternative<Seconds>(zero->of)) {
        keys.wrong("zero", "'zero' expects a date and time such as 2026-05-02T12:30:00");
      }
    }
    keys.finish();
    return feed;
  }

  SensorsFeed sensors(const documents::Table& table) {
    TableReader keys(reading, table, "[[sensors]]");
    SensorsFeed feed;
    head(keys, feed, "sensors");
    feed.root = keys.text("root").value_or("/sys");
    if (!feed.root.is_absolute()) feed.root = folder / feed.root;
    if (const auto every = keys.elapsed("every")) {
      feed.every = std::chrono::round<std::chrono::milliseconds>(*every);
      if (feed.every < std::chrono::milliseconds(100)) {
        keys.wrong("every", "'every' is at least \"0.1 s\"");
      }
    }
    keys.finish();
    return feed;
  }

  HandFeed hand(const documents::Table& table) {
    TableReader keys(reading, table, "[[hand]]");
    HandFeed feed;
    head(keys, feed, "hand");
    feed.unit = unit_of(keys, defaults.unit);
    feed.timezone = timezone_of(keys, defaults.timezone);
    keys.finish();
    return feed;
  }

  HttpFeed http(const documents::Table& table) {
    TableReader keys(reading, table, "[[http]]");
    HttpFeed feed;
    head(keys, feed, "http");
    feed.payload = payload_of(keys, defaults);
    keys.finish();
    return feed;
  }

  ChannelName channel(const documents::Table& table) {
    TableReader keys(reading, table, "[[channel]]");
    keys.require("from", "from = \"probe_1\"");
    ChannelName channel;
    channel.from = keys.text("from").value_or("");
    channel.name = keys.text("name").value_or(channel.from);
    keys.finish();
    return channel;
  }
};

void check_channels(TableReader& root, const std::vector<ChannelName>& channels) {
  std::set<std::string> from, to;
  for (const auto& one : channels) {
    if (!from.insert(one.from).second) {
      root.wrong("channel", fmt::format("two tables [[channel]] are about '{}'", one.from));
    }
    if (!to.insert(one.name).second) {
      root.wrong("channel", fmt::format("two tables [[channel]] give the name '{}'", one.name));
    }
  }
}

FeedDocument document_of(documents::Reading& reading, const documents::Table& table,
                         const std::filesystem::path& folder) {
  FeedDocument document;
  TableReader root(reading, table, "");
  Reader reader{reading, folder, {}, {}};
  reader.defaults.unit = unit_of(root, logs::ChannelUnit::unknown);
  reader.defaults.timezone = timezone_of(root, "");
  document.unit = reader.defaults.unit;
  document.timezone = reader.defaults.timezone;
  for (const auto* one : root.tables("mqtt")) document.mqtt.push_back(reader.mqtt(*one));
  for (const auto* one : root.tables("file")) document.files.push_back(reader.file(*one));
  for (const auto* one : root.tables("sensors")) document.sensors.push_back(reader.sensors(*one));
  for (const auto* one : root.tables("hand")) document.hand.push_back(reader.hand(*one));
  for (const auto* one : root.tables("http")) document.http.push_back(reader.http(*one));
  for (const auto* one : root.tables("channel")) document.channels.push_back(reader.channel(*one));
  if (const auto word = root.word("unknown", unknown_words)) document.leave_unknown = *word == 1;
  check_channels(root, document.channels);
  if (document.hand.size() > 1) root.wrong("hand", "there is one terminal: give one [[hand]]");
  if (document.mqtt.empty() && document.files.empty() && document.sensors.empty() &&
      document.hand.empty() && document.http.empty()) {
    root.wrong("mqtt",
               "no source: give a table [[mqtt]], [[file]], [[sensors]], [[hand]] or [[http]]");
  }
  root.finish();
  return document;
}

}  // namespace

Result<FeedDocument> read_feed(const std::filesystem::path& path) {
  const auto table = documents::read_toml(path);
  if (!table) return std::unexpected(table.error());
  documents::Reading reading{path.string(), {}, {}};
  auto document = document_of(reading, *table, std::filesystem::absolute(path).parent_path());
  if (reading.mistake) return std::unexpected(*reading.mistake);
  return document;
}

Result<FeedDocument> parse_feed(std::string_view text, std::string_view file,
                                const std::filesystem::path& folder) {
  const auto table = documents::parse_toml(text, file);
  if (!table) return std::unexpected(table.error());
  documents::Reading reading{std::string(file), {}, {}};
  auto document = document_of(reading, *table, folder);
  if (reading.mistake) return std::unexpected(*reading.mistake);
  return document;
}

}  // namespace pitwright::feed
