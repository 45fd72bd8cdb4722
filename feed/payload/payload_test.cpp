#include "payload/payload.h"

#include <cmath>
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace pitwright::feed {
namespace {

using namespace std::chrono;
using logs::ChannelUnit;
using testing::HasSubstr;

const Moment arrival{sys_days(2026y / May / 2) + 17h};

struct Read {
  std::vector<Reading> readings;
  std::vector<std::string> said;

  std::string text() const {
    std::string out;
    for (const auto& r : readings) {
      out += r.channel + "=" +
             (std::isnan(r.value) ? "missing" : std::to_string(std::lround(r.value * 10))) + "@" +
             std::to_string((r.at - arrival) / 1s) + (r.stamped ? " " : "? ");
    }
    return out;
  }
};

Read read(std::string_view payload, PayloadSpec spec = {}, std::string_view topic = "pit/A/temp") {
  Read out;
  Troubles troubles([&out](const std::string& line) { out.said.push_back(line); });
  if (spec.unit == ChannelUnit::unknown) spec.unit = ChannelUnit::celsius;
  auto reader = PayloadReader::make(spec, "yard", troubles);
  EXPECT_TRUE(reader) << reader.error().what;
  reader->read(payload, topic, arrival, out.readings);
  return out;
}

Selector at(std::string_view path) {
  return Selector::parse(path).value();
}

TEST(Payload, TakesAPlainNumberUnderItsTopicOrAName) {
  EXPECT_EQ(read("107.5").text(), "pit/A/temp=1075@0? ");
  EXPECT_EQ(read(" 225 F\r\n", {.channel = "{2} top"}).text(), "A top=1072@0? ");
  EXPECT_EQ(read("-40", {.channel = "x", .unit = ChannelUnit::fahrenheit}).text(), "x=-400@0? ");
  EXPECT_TRUE(std::isnan(read("---", {.channel = "x"}).readings.at(0).value));
}

TEST(Payload, TakesEveryNumberOfAnObjectUnderItsName) {
  EXPECT_EQ(read(R"({"time":"2026-05-02T12:00:10-05:00","A":1.5,"B":"2.5","note":"hot","C":null})")
                .text(),
            "A=15@10 B=25@10 C=missing@10 ");
  EXPECT_EQ(read(R"({"ts":1777741205,"unit":"F","A":212})").text(), "A=1000@5 ");
}

TEST(Payload, TakesStampsInAnyUsualForm) {
  for (const auto* time :
       {"1777741205", "1777741205000", "1777741205000000", "1777741205000000000", "\"1777741205\"",
        "\"2026-05-02T17:00:05Z\"", "\"2026-05-02 19:00:05+02:00\""}) {
    EXPECT_EQ(read(std::string(R"({"t":)") + time + R"(,"A":1})",
                   {.time = at("/t"), .channels = {{"A", at("/A")}}})
                  .text(),
              "A=10@5 ")
        << time;
  }
  EXPECT_EQ(read(R"({"t":"2026-05-02 12:00:05","A":1})",
                 {.time = at("/t"), .channels = {{"A", at("/A")}}, .timezone = "America/Chicago"})
                .text(),
            "A=10@5 ");
}

TEST(Payload, TakesTheTimeOfArrivalWhereTheStampIsNone) {
  for (const auto* time :
       {"17", "0", "1e300", "\"soon\"", "\"1970-01-01T00:00:20Z\"", "9e9", "null", "{}"}) {
    const auto got = read(std::string(R"({"t":)") + time + R"(,"A":1})",
                          {.time = at("/t"), .channels = {{"A", at("/A")}}});
    EXPECT_EQ(got.text(), "A=10@0? ") << time;
    EXPECT_THAT(got.said, testing::ElementsAre(HasSubstr("time of arrival"))) << time;
  }
}

TEST(Payload, TakesRecordsAndLines) {
  EXPECT_EQ(read(R"([{"ts":1777741201,"A":1},{"ts":1777741202,"A":2}])").text(), "A=10@1 A=20@2 ");
  EXPECT_EQ(read("{\"ts\":1777741201,\"A\":1}\n{\"ts\":1777741202,\"A\":2}\n").text(),
            "A=10@1 A=20@2 ");
  EXPECT_EQ(read(R"({"ts":1777741203,"all":[{"n":"A","v":1},{"n":7,"v":2},{"n":"B","v":"x"}]})",
                 {.each = at("$.all[*]"), .name = at("/n"), .value = at("/v")})
                .text(),
            "A=10@3 7=20@3 ");
  EXPECT_EQ(read("2026-05-02T17:00:04Z;1,5;skip;2\n",
                 {.kind = PayloadKind::csv, .columns = {"time", "A", "-", "B"}})
                .text(),
            "A=15@4 B=20@4 ");
  EXPECT_EQ(read("[1,2]").text(), "1=10@0? 2=20@0? ");
}

TEST(Payload, NamesAnUnknownChannelOnce) {
  Read out;
  Troubles troubles([&out](const std::string& line) { out.said.push_back(line); });
  auto reader = PayloadReader::make({.channels = {{"A", at("/a")}}, .unit = ChannelUnit::celsius},
                                    "yard", troubles);
  for (int i = 0; i < 5; ++i) reader->read(R"({"a":1,"b":2})", "t", arrival, out.readings);
  EXPECT_EQ(out.readings.size(), 5U);
  EXPECT_THAT(out.said, testing::ElementsAre(HasSubstr("'b'")));
}

TEST(Payload, LeavesOutWhatNoThermometerShows) {
  EXPECT_EQ(read(R"({"A":1e308,"B":-300,"C":3001,"D":20})").text(), "D=200@0? ");
  EXPECT_EQ(read("1e400", {.channel = "A"}).text(), "");
}

TEST(Payload, SurvivesAnyBytes) {
  std::uint64_t state = 1;  // xorshift, from memory
  for (int round = 0; round < 3000; ++round) {
    std::string bytes;
    for (int i = 0; i < round % 60; ++i) {
      state ^= state << 13;
      state ^= state >> 7;
      state ^= state << 17;
      bytes += round % 2 == 0 ? static_cast<char>(state) : R"({}[]":,0123eE-.t "n)"[state % 18];
    }
    for (const auto& spec :
         {PayloadSpec{}, PayloadSpec{.each = at("$[*]"), .name = at("/0"), .value = at("/1")},
          PayloadSpec{.kind = PayloadKind::csv, .columns = {"time", "A"}}}) {
      for (const auto& reading : read(bytes, spec).readings) {
        EXPECT_FALSE(std::isinf(reading.value));
        EXPECT_FALSE(reading.channel.empty());
      }
    }
  }
  EXPECT_EQ(read(std::string(longest_payload + 1, '1')).readings.size(), 0U);
  EXPECT_EQ(read(std::string(500'000, '[') + std::string(500'000, ']')).readings.size(), 0U);
}

TEST(StoredValue, TurnsUnitsIntoTheStores) {
  EXPECT_DOUBLE_EQ(*stored_value(212, ChannelUnit::fahrenheit), 100);
  EXPECT_DOUBLE_EQ(*stored_value(373.15, ChannelUnit::kelvin), 100);
  EXPECT_DOUBLE_EQ(*stored_value(10, ChannelUnit::mps), 36);
  EXPECT_DOUBLE_EQ(*stored_value(10, ChannelUnit::mph),
                   16.09344);  // Source: 1 mi = 1.609344 km, exact
  EXPECT_FALSE(stored_value(-460, ChannelUnit::fahrenheit));
}

}  // namespace
}  // namespace pitwright::feed
