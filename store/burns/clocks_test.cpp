#include "burns/clocks.h"

#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

#include <gtest/gtest.h>

#include "numeric/random.h"

namespace pitwright::burns {
namespace {

constexpr std::int64_t noon_ms = 1777723200'000;  // 2026-05-02T12:00:00Z

documents::BurnDocument document_of(const std::string& head) {
  auto document = documents::parse_burn(
      head + "\n[[probe]]\nchannel='A1'\n[[stint]]\nsetting='A'\n", "burn.toml");
  EXPECT_TRUE(document) << (document ? "" : document.error().what);
  return *document;
}

logs::Log log_of(std::int64_t from_ms, int samples, std::int64_t every_ms,
                 logs::Stamps stamps = logs::Stamps::instants) {
  logs::Log log;
  log.stamps = stamps;
  log.interval_s = static_cast<double>(every_ms) / 1000.0;
  logs::LogChannel channel;
  channel.name = "A1";
  std::vector<std::int64_t> stamps_ms;
  for (int i = 0; i < samples; ++i) stamps_ms.push_back(from_ms + i * every_ms);
  channel.values.assign(stamps_ms.size(), 250.0);
  channel.ms = std::move(stamps_ms);
  log.channels.push_back(channel);
  return log;
}

std::string refusal(const std::string& head, const std::vector<logs::Log>& logs) {
  const auto clocks = put_clocks_together(document_of(head), logs);
  return clocks ? "" : clocks.error().what;
}

TEST(Clocks, PutZeroAtTheFirstSampleOfAllLogs) {
  const std::vector logs{log_of(noon_ms + 60'000, 600, 10'000), log_of(noon_ms, 100, 60'000)};
  const auto clocks = put_clocks_together(document_of("logs=['a.csv','b.csv']"), logs);
  ASSERT_TRUE(clocks) << clocks.error().what;
  EXPECT_EQ(clocks->clock.zero, Instant(std::chrono::milliseconds(noon_ms)));
  EXPECT_DOUBLE_EQ(clocks->logs[0].seconds(noon_ms + 60'000), 60.0);
  EXPECT_DOUBLE_EQ(clocks->logs[1].seconds(noon_ms + 250), 0.25);
  EXPECT_EQ(clocks->uncertainty_s, untold_clock_uncertainty_s);
  EXPECT_EQ(clocks->assumed.size(), 1U);
}

TEST(Clocks, HaveNoUncertaintyWithOneLogger) {
  const std::vector logs{log_of(0, 600, 10'000, logs::Stamps::elapsed)};
  const auto clocks = put_clocks_together(document_of("logs='a.csv'"), logs);
  ASSERT_TRUE(clocks) << clocks.error().what;
  EXPECT_FALSE(clocks->clock.zero);
  EXPECT_EQ(clocks->uncertainty_s, 0.0);
}

TEST(Clocks, TakeTheStatedOffsetAndStart) {
  const std::vector logs{log_of(noon_ms, 600, 10'000),
                         log_of(0, 600, 10'000, logs::Stamps::elapsed)};
  const auto clocks = put_clocks_together(document_of(R"(
[[log]]
file = "a.csv"
offset = "-7 min 20 s"
offset_uncertainty = "5 s"
[[log]]
file = "b.csv"
zero = 2026-05-02T12:00:00)"),
                                          logs);
  ASSERT_TRUE(clocks) << clocks.error().what;
  EXPECT_EQ(clocks->clock.zero, Instant(std::chrono::milliseconds(noon_ms - 440'000)));
  EXPECT_DOUBLE_EQ(clocks->logs[0].offset_s, -440.0);
  EXPECT_DOUBLE_EQ(clocks->logs[1].seconds(0), 440.0);
  EXPECT_DOUBLE_EQ(clocks->logs[0].uncertainty_s, 5.0);
}

TEST(Clocks, MeetAtACommonMark) {
  const std::vector logs{log_of(noon_ms, 600, 10'000), log_of(noon_ms + 440'000, 100, 60'000)};
  const auto by_burn = put_clocks_together(document_of(R"(
mark = 2026-05-02T12:05:00
[[log]]
file = "a.csv"
mark = 2026-05-02T12:05:10
mark_uncertainty = "3 s"
[[log]]
file = "b.csv"
mark = 2026-05-02T12:12:20)"),
                                           logs);
  ASSERT_TRUE(by_burn) << by_burn.error().what;
  EXPECT_DOUBLE_EQ(by_burn->logs[0].offset_s, -10.0);
  EXPECT_DOUBLE_EQ(by_burn->logs[1].offset_s, -440.0);
  EXPECT_DOUBLE_EQ(by_burn->logs[1].uncertainty_s, 60.0);  // its interval, where nothing is said

  const auto by_log = put_clocks_together(document_of(R"(
[[log]]
file = "a.csv"
mark = 2026-05-02T12:05:00
[[log]]
file = "b.csv"
mark = "5 min")"),
                                          logs);  // five minutes after b's own first sample
  ASSERT_TRUE(by_log) << by_log.error().what;
  EXPECT_DOUBLE_EQ(by_log->logs[1].offset_s, -440.0);
  EXPECT_DOUBLE_EQ(by_log->logs[1].uncertainty_s, std::hypot(10.0, 60.0));
}

TEST(Clocks, GiveAnElapsedLogItsPlaceByTheMark) {
  const std::vector logs{log_of(noon_ms, 600, 10'000),
                         log_of(0, 600, 10'000, logs::Stamps::elapsed)};
  const auto clocks = put_clocks_together(document_of(R"(
[[log]]
file = "a.csv"
mark = 2026-05-02T12:05:00
[[log]]
file = "b.csv"
mark = "0:12")"),
                                          logs);
  ASSERT_TRUE(clocks) << clocks.error().what;
  EXPECT_DOUBLE_EQ(clocks->logs[1].seconds(720'000) - clocks->logs[0].seconds(noon_ms), 300.0);
}

TEST(Clocks, RefuseAMarkThatOnlyOneLogHas) {
  const std::vector logs{log_of(noon_ms, 600, 10'000), log_of(noon_ms, 100, 60'000)};
  EXPECT_NE(refusal("[[log]]\nfile='a.csv'\nmark='5 min'\n[[log]]\nfile='b.csv'", logs)
                .find("only 'a.csv' has a 'mark'"),
            std::string::npos);
}

TEST(Clocks, RefuseLoggersThatCountFromTheirOwnStarts) {
  const std::vector logs{log_of(0, 600, 10'000, logs::Stamps::elapsed),
                         log_of(0, 600, 10'000, logs::Stamps::elapsed)};
  EXPECT_NE(refusal("logs=['a.csv','b.csv']", logs).find("counts time from its own start"),
            std::string::npos);
  EXPECT_EQ(refusal("logs=['a.csv','b.csv']\n[[log]]\nfile='b.csv'\noffset='20 s'", logs), "");
  const std::vector mixed{log_of(noon_ms, 600, 10'000),
                          log_of(0, 600, 10'000, logs::Stamps::elapsed)};
  EXPECT_NE(refusal("logs=['a.csv','b.csv']", mixed).find("'b.csv' counts time from its own"),
            std::string::npos);
}

TEST(Clocks, ProposeTheKeysWhereWholeHoursWouldMendThem) {
  // 16:40 of logging, and a second logger five hours behind plus 440 s: nothing in common.
  const std::vector logs{log_of(noon_ms, 1000, 10'000),
                         log_of(noon_ms - 5 * 3'600'000 + 440'000, 1000, 10'000)};
  const auto said = refusal(
      "timezone='America/Chicago'\nlogs=['a.csv','b.csv']\n[[log]]\n"
      "file='b.csv'\ntimezone='UTC'",
      logs);
  EXPECT_NE(said.find("[[log]] file = \"b.csv\" with timezone = \"America/Chicago\" (if its stamps "
                      "are in that zone), or offset = \"+5 h\""),
            std::string::npos)
      << said;
  EXPECT_TRUE(said.starts_with("burn.toml:3:1: 'a.csv' runs from 2026-05-02T07:00:00-05:00"))
      << said;
  const std::vector other{logs[0], log_of(noon_ms + 5 * 3'600'000, 1000, 10'000)};
  const auto utc = refusal("timezone='America/Chicago'\nlogs=['a.csv','b.csv']", other);
  EXPECT_NE(utc.find("timezone = \"UTC\""), std::string::npos) << utc;
  EXPECT_NE(utc.find("offset = \"-5 h\""), std::string::npos) << utc;
}

TEST(Clocks, RefuseLogsWithNothingInCommonUnlessToldSo) {
  const std::vector logs{log_of(noon_ms, 600, 10'000),
                         log_of(noon_ms + 90 * 86'400'000LL, 600, 10'000)};
  EXPECT_NE(refusal("logs=['a.csv','b.csv']", logs).find("they have no time in common"),
            std::string::npos);
  EXPECT_EQ(refusal("logs=['a.csv','b.csv']\n[[log]]\nfile='b.csv'\noffset='0 s'", logs), "");
}

TEST(Clocks, SuspectAWholeHourWhereStartsAndEndsAreAsFarApart) {
  const std::vector logs{log_of(noon_ms, 2000, 10'000), log_of(noon_ms + 3'720'000, 2000, 10'000)};
  const auto clocks = put_clocks_together(document_of("logs=['a.csv','b.csv']"), logs);
  ASSERT_TRUE(clocks) << clocks.error().what;
  EXPECT_NE(clocks->assumed.at(0).find("about 1 h apart"), std::string::npos)
      << clocks->assumed.at(0);
}

/// Swings of wandering length, seen by a probe with a lag of 33 s.
std::function<double(double)> made_up_air(int seconds, std::uint64_t seed) {
  numeric::Random random(seed);
  std::vector<double> air;
  double phase = 0.0;
  double pace = 1.0;
  double shown = 250.0;
  for (int s = 0; s < seconds; ++s) {
    pace += (1.0 - pace) / 900.0 + 0.15 * random.normal() * std::sqrt(2.0 / 900.0);
    phase += 2.0 * std::numbers::pi / 480.0 * pace;
    shown += (250.0 + 8.0 * std::sin(phase) - shown) / 33.0;
    air.push_back(shown);
  }
  return [air](double s) { return air.at(static_cast<std::size_t>(s)); };
}

void fill(logs::Log& log, const std::string& name, std::int64_t stamp_of_zero_ms,
          const std::function<double(double)>& air) {
  auto& channel = log.channels.at(0);
  channel.name = name;
  for (std::size_t i = 0; i < channel.ms.size(); ++i) {
    channel.values[i] = air(static_cast<double>(channel.ms[i] - stamp_of_zero_ms) / 1000.0);
  }
}

TEST(Clocks, MatchByWhatBothLoggersHaveSeen) {
  const auto air = made_up_air(6 * 3600, 3);
  std::vector logs{log_of(noon_ms, 2160, 10'000),
                   log_of(noon_ms + 3'600'000 + 440'000, 350, 60'000)};
  fill(logs[0], "A1", noon_ms, air);
  fill(logs[1], "B1", noon_ms + 4'040'000, air);
  const auto clocks = put_clocks_together(
      document_of("logs=['a.csv','b.csv']\n[[log]]\nfile='b.csv'\nmatch='B1 ~ a.csv:A1'"), logs);
  ASSERT_TRUE(clocks) << clocks.error().what;
  EXPECT_NEAR(clocks->logs[1].offset_s, -4040.0, 5.0);
  EXPECT_LT(clocks->uncertainty_s, 30.0);
  EXPECT_NE(refusal("logs=['a.csv','b.csv']\n[[log]]\nfile='b.csv'\nmatch='B2 ~ A1'", logs)
                .find("did you mean 'B1'?"),
            std::string::npos);
  EXPECT_NE(refusal("logs=['a.csv','b.csv']\n[[log]]\nfile='b.csv'\nmatch='B1 ~ B1'", logs)
                .find("another log"),
            std::string::npos);
}

TEST(Clocks, RefuseAMatchThatTheReadingsDoNotCarry) {
  std::vector logs{log_of(noon_ms, 2160, 10'000), log_of(noon_ms, 350, 60'000)};
  logs[1].channels[0].name = "B1";
  const auto said = refusal("logs=['a.csv','b.csv']\n[[log]]\nfile='b.csv'\nmatch='B1 ~ A1'", logs);
  EXPECT_NE(said.find("the clock of 'b.csv' cannot be told from 'B1' and 'A1'"), std::string::npos)
      << said;
}

TEST(Clocks, SayWhereAnUntoldClockSeemsToBeOff) {
  const auto air = made_up_air(6 * 3600, 4);
  std::vector logs{log_of(noon_ms, 2160, 10'000), log_of(noon_ms + 440'000, 350, 60'000)};
  fill(logs[0], "A1", noon_ms, air);
  fill(logs[1], "B1", noon_ms + 440'000, air);
  const auto clocks = put_clocks_together(document_of("logs=['a.csv','b.csv']"), logs);
  ASSERT_TRUE(clocks) << clocks.error().what;
  EXPECT_NE(clocks->assumed.at(0).find("ahead of 'a.csv'"), std::string::npos)
      << clocks->assumed.at(0);
  EXPECT_EQ(clocks->logs[1].offset_s, 0.0);
  EXPECT_GT(clocks->uncertainty_s, 430.0);
}

TEST(OffsetText, IsWhatTheOffsetKeyTakes) {
  EXPECT_EQ(offset_text(440), "+7 min 20 s");
  EXPECT_EQ(offset_text(-18000), "-5 h");
  EXPECT_EQ(offset_text(-4040.2), "-1 h 7 min 20 s");
  EXPECT_EQ(offset_text(0.0), "+0 s");
  EXPECT_EQ(offset_text(12.4), "+12.4 s");
}

}  // namespace
}  // namespace pitwright::burns
