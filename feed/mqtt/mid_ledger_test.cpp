#include "mqtt/mid_ledger.h"

#include <filesystem>
#include <string>

#include <gtest/gtest.h>
#include <unistd.h>

#include "mqtt/mqtt_source.h"

namespace pitwright::feed {
namespace {

using namespace std::chrono;
constexpr Moment then{sys_days(2026y / May / 2)};

struct File {
  std::filesystem::path path =
      std::filesystem::temp_directory_path() / ("ledger-" + std::to_string(::getpid()));
  ~File() { std::filesystem::remove(path); }
};

TEST(MidLedger, KnowsAMessageThatComesAgainAfterACrash) {
  const File file;
  {
    auto ledger = MidLedger::open(file.path).value();
    ledger.begin(true);
    EXPECT_EQ(ledger.arrival(7, false, "t", "225", then), then);
    EXPECT_EQ(ledger.arrival(8, false, "t", "225", then + 1s), then + 1s);
    ASSERT_TRUE(ledger.sync());
    EXPECT_EQ(ledger.arrival(9, false, "t", "225", then + 2s), then + 2s);  // not synced
  }
  for (int crash = 0; crash < 3; ++crash) {  // and again, and again
    auto ledger = MidLedger::open(file.path).value();
    ledger.begin(true);
    EXPECT_EQ(ledger.arrival(7, true, "t", "225", then + 1h), then);
    EXPECT_EQ(ledger.arrival(8, true, "t", "225", then + 1h), then + 1s);
    if (crash == 0) {
      EXPECT_EQ(ledger.arrival(9, true, "t", "225", then + 1h), then + 1h);
    }
    ASSERT_TRUE(ledger.sync());
  }
}

TEST(MidLedger, TakesNothingElseForAMessageThatComesAgain) {
  MidLedger ledger;
  ledger.begin(true);
  ledger.arrival(7, false, "t", "225", then);
  EXPECT_EQ(ledger.arrival(7, true, "t", "225", then + 1s), then + 1s) << "same connection";
  ledger.begin(true);
  EXPECT_EQ(ledger.arrival(7, false, "t", "225", then + 2s), then + 2s) << "the broker says: new";
  ledger.begin(true);
  EXPECT_EQ(ledger.arrival(7, true, "t", "226", then + 3s), then + 3s) << "other payload";
  ledger.begin(false);
  EXPECT_EQ(ledger.arrival(7, true, "t", "226", then + 4s), then + 4s) << "another session";
  for (int i = 0; i < 20'000; ++i) ledger.arrival(1000 + i, false, "t", "1", then);
  ledger.begin(true);
  EXPECT_EQ(ledger.arrival(7, true, "t", "226", then + 5s), then + 5s) << "too long ago";
}

TEST(TopicFits, GivesTheExamplesOfTheStandard) {
  // Source: MQTT 5.0 (OASIS, 2019), sections 4.7.1.2, 4.7.1.3 and 4.7.2.
  for (const auto* topic : {"sport/tennis/player1", "sport/tennis/player1/ranking",
                            "sport/tennis/player1/score/wimbledon"}) {
    EXPECT_TRUE(topic_fits("sport/tennis/player1/#", topic)) << topic;
  }
  EXPECT_TRUE(topic_fits("sport/#", "sport"));
  EXPECT_TRUE(topic_fits("sport/tennis/+", "sport/tennis/player1"));
  EXPECT_FALSE(topic_fits("sport/tennis/+", "sport/tennis/player1/ranking"));
  EXPECT_FALSE(topic_fits("sport/+", "sport"));
  EXPECT_TRUE(topic_fits("sport/+", "sport/"));
  EXPECT_TRUE(topic_fits("+/+", "/finance"));
  EXPECT_TRUE(topic_fits("/+", "/finance"));
  EXPECT_FALSE(topic_fits("+", "/finance"));
  EXPECT_FALSE(topic_fits("#", "$SYS/broker"));
  EXPECT_FALSE(topic_fits("+/monitor/Clients", "$SYS/monitor/Clients"));
  EXPECT_TRUE(topic_fits("$SYS/#", "$SYS/broker"));
  EXPECT_TRUE(topic_fits("$SYS/monitor/+", "$SYS/monitor/Clients"));
  for (const auto* good : {"#", "+", "sport/tennis/#", "+/tennis/#", "sport/+/player1"}) {
    EXPECT_TRUE(is_topic_filter(good)) << good;
  }
  for (const auto* bad : {"sport/tennis#", "sport/tennis/#/ranking", "sport+", ""}) {
    EXPECT_FALSE(is_topic_filter(bad)) << bad;
  }
}

}  // namespace
}  // namespace pitwright::feed
