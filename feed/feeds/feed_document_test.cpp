#include "feeds/feed_document.h"

#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace pitwright::feed {
namespace {

using testing::HasSubstr;

std::string mistake(std::string_view text) {
  const auto document = parse_feed(text, "feed.toml", "/home/pit");
  return document ? "none" : document.error().what;
}

const std::string broker = "[[mqtt]]\nbroker = \"mqtt://10.0.0.2\"\n";

TEST(FeedDocument, IsReadWhole) {
  const auto read = parse_feed(R"(unit = "F"
timezone = "America/Chicago"
unknown = "leave"
[[mqtt]]
name = "yard"
prefix = "y"
broker = "mqtts://broker.local:8884"
version = "3.1.1"
ca = "ca.pem"
user = "pit"
password_file = "/run/secret"
[[mqtt.topic]]
topic = "pit/+/t"
channel = "{2}"
[[mqtt.topic]]
topic = "pit/all"
each = "$.readings[*]"
name = "/probe"
value = "/c"
unit = "C"
[[file]]
file = "log.csv"
date = "day-first"
zero = 2026-05-02T12:30:00
[[sensors]]
root = "sys"
every = "5 s"
[[hand]]
unit = "C"
[[http]]
payload = "csv"
columns = ["time", "A"]
[[channel]]
from = "y:a"
name = "A1"
)",
                               "feed.toml", "/home/pit");
  ASSERT_TRUE(read) << read.error().what;
  ASSERT_EQ(read->mqtt.size(), 1U);
  const auto& mqtt = read->mqtt.front();
  EXPECT_EQ(mqtt.broker.host, "broker.local");
  EXPECT_EQ(mqtt.broker.port, 8884);
  EXPECT_TRUE(mqtt.broker.tls);
  EXPECT_EQ(mqtt.broker.version, MqttVersion::v311);
  EXPECT_EQ(mqtt.broker.ca, "/home/pit/ca.pem");
  EXPECT_EQ(mqtt.broker.password_file, "/run/secret");
  EXPECT_EQ(mqtt.topics.at(0).payload.unit, logs::ChannelUnit::fahrenheit);
  EXPECT_EQ(mqtt.topics.at(1).payload.unit, logs::ChannelUnit::celsius);
  EXPECT_EQ(mqtt.topics.at(1).payload.timezone, "America/Chicago");
  EXPECT_EQ(read->files.at(0).file, "/home/pit/log.csv");
  EXPECT_EQ(read->files.at(0).hints.unit, "F");
  EXPECT_EQ(read->files.at(0).hints.zero->time_since_epoch().count(), 1777743000000);  // 17:30Z
  EXPECT_EQ(read->sensors.at(0).every.count(), 5000);
  EXPECT_TRUE(read->leave_unknown);
  EXPECT_EQ(read->channels.at(0).name, "A1");
}

TEST(FeedDocument, NamesLineColumnAndTheNearestWord) {
  EXPECT_THAT(
      mistake(broker + "[[mqtt.topic]]\ntopc = \"a\"\n"),
      HasSubstr("feed.toml:4:1: unknown key 'topc' in [[mqtt.topic]]; did you mean 'topic'?"));
  EXPECT_THAT(mistake("[[mqtt]]\nbroker = \"10.0.0.2\"\n[[mqtt.topic]]\ntopic = \"a\"\n"),
              HasSubstr("feed.toml:2:10: a broker is written mqtt://"));
  EXPECT_THAT(mistake(broker), HasSubstr("feed.toml:1:1: [[mqtt]] needs 'topic'"));
  EXPECT_THAT(mistake(broker + "[[mqtt.topic]]\ntopic = \"a#\"\n"),
              HasSubstr("is no topic filter"));
  EXPECT_THAT(mistake(broker + "[[mqtt.topic]]\ntopic = \"a\"\ntime = \"t\"\n"),
              HasSubstr("feed.toml:5:8: 'time': \"t\": a place in JSON starts with '/'"));
  EXPECT_THAT(mistake(broker + "[[mqtt.topic]]\ntopic = \"a\"\nchannels = { A = 3 }\n"),
              HasSubstr("'channels', A: expects a place"));
  EXPECT_THAT(mistake(broker + "[[mqtt.topic]]\ntopic = \"a\"\nunit = \"bar\"\n"),
              HasSubstr("'unit' expects"));
  EXPECT_THAT(mistake(""), HasSubstr("no source"));
  EXPECT_THAT(mistake("[[file]]\nfile = \"a\"\n[[file]]\nfile = \"b\"\n"),
              HasSubstr("two sources are named 'file'"));
}

TEST(FeedDocument, KeepsSecretsOut) {
  EXPECT_THAT(mistake("[[mqtt]]\nbroker = \"mqtt://u:p@h\"\n"),
              HasSubstr("do not belong into the address"));
  EXPECT_THAT(mistake(broker + "password = \"x\"\n[[mqtt.topic]]\ntopic = \"a\"\n"),
              HasSubstr("does not belong into this file"));
  EXPECT_THAT(mistake(broker + "ca = \"x\"\n[[mqtt.topic]]\ntopic = \"a\"\n"),
              HasSubstr("mqtts://"));
}

TEST(ParseBroker, TakesNamesAddressesAndPorts) {
  EXPECT_EQ(parse_broker("mqtt://h")->port, 1883);
  EXPECT_EQ(parse_broker("mqtts://h/")->port, 8883);
  EXPECT_EQ(parse_broker("mqtt://[fe80::1]:99")->host, "fe80::1");
  EXPECT_EQ(parse_broker("mqtt://[fe80::1]:99")->port, 99);
  for (const auto* bad : {"", "http://h", "mqtt://", "mqtt://h:0", "mqtt://h:70000", "mqtt://h:x",
                          "mqtt://h/topic"}) {
    EXPECT_FALSE(parse_broker(bad)) << bad;
  }
}

}  // namespace
}  // namespace pitwright::feed
