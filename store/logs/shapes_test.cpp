// Shapes of tables, read through read_log.
#include <gmock/gmock.h>

#include "logs/read_text_test.h"

namespace pitwright::logs {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

void expect_two_channels(const Log& log) {
  EXPECT_THAT(stamps_of(log), ElementsAre(afternoon, afternoon + 1000, afternoon + 2000));
  ASSERT_EQ(log.channels.size(), 2U);
  EXPECT_THAT(values_of(log, 0), ElementsAre(107.5, 108.25, -3.0));
  EXPECT_THAT(values_of(log, 1), ElementsAre(93.0, 94.0, 95.5));
  EXPECT_EQ(log.rows, 3);
  EXPECT_EQ(log.skipped_total, 0);
  EXPECT_DOUBLE_EQ(log.interval_s, 1.0);
}

TEST(WideTable, ReadsCommas) {
  const auto log = log_of(
      "time,Pit,Grate\n2026-05-02T13:05:00Z,107.5,93\n2026-05-02T13:05:01Z,108.25,94\n"
      "2026-05-02T13:05:02Z,-3,95.5\n");
  expect_two_channels(log);
  EXPECT_THAT(names_of(log), ElementsAre("Pit", "Grate"));
  EXPECT_TRUE(log.channels[0].ms.shares_with(log.channels[1].ms));
}

TEST(WideTable, ReadsSemicolonsWithDecimalComma) {
  expect_two_channels(
      log_of("time;Pit;Grate\n2026-05-02 13:05:00;107,5;93\n2026-05-02 13:05:01;108,25;94\n"
             "2026-05-02 13:05:02;-3;95,5\n"));
}

TEST(WideTable, ReadsTabs) {
  expect_two_channels(
      log_of("time\tPit\tGrate\n2026-05-02 13:05:00\t107.5\t93\n2026-05-02 13:05:01\t108.25\t94\n"
             "2026-05-02 13:05:02\t-3\t95.5\n"));
}

TEST(WideTable, ReadsRunsOfBlanks) {
  const auto log = log_of(
      "time                Pit     Grate\n2026-05-02 13:05:00  107.5   93\n"
      "2026-05-02 13:05:01  108.25  94\n2026-05-02 13:05:02   -3     95.5\n");
  expect_two_channels(log);
  EXPECT_THAT(names_of(log), ElementsAre("Pit", "Grate"));
}

TEST(WideTable, ReadsQuotedDecimalCommasBetweenCommas) {
  expect_two_channels(
      log_of("time,Pit,Grate\n2026-05-02 13:05:00,\"107,5\",\"93\"\n"
             "2026-05-02 13:05:01,\"108,25\",\"94\"\n2026-05-02 13:05:02,-3,\"95,5\"\n"));
}

TEST(WideTable, ReadsBlanksAfterDelimitersAndATrailingDelimiter) {
  expect_two_channels(log_of(
      "time, Pit, Grate,\n2026-05-02T13:05:00Z, 107.5, 93,\n2026-05-02T13:05:01Z, 108.25, 94,\n"
      "2026-05-02T13:05:02Z, -3, 95.5,\n"));
}

TEST(WideTable, PassesOverPreambleAndReadsAUnitsRow) {
  const auto log = log_of(
      "Logger 7, serial 0042\nstarted by hand\n\ntime,Pit,Grate\n,°F,°C\n"
      "2026-05-02T13:05:00Z,107.5,93\n2026-05-02T13:05:01Z,108.25,94\n2026-05-02T13:05:02Z,-3,95."
      "5\n");
  expect_two_channels(log);
  EXPECT_THAT(names_of(log), ElementsAre("Pit", "Grate"));
  EXPECT_EQ(log.channels[0].unit, ChannelUnit::fahrenheit);
  EXPECT_EQ(log.channels[1].unit, ChannelUnit::celsius);
  EXPECT_TRUE(log.channels[1].unit_from_file);
  EXPECT_TRUE(says(log, "header on line 4, units on line 5"));
}

TEST(WideTable, NumbersChannelsWithoutAHeader) {
  const auto log = log_of("0,107.5,93\n1,108.25,94\n2,-3,95.5\n");
  EXPECT_THAT(names_of(log), ElementsAre("2", "3"));
  EXPECT_EQ(log.stamps, Stamps::elapsed);
  EXPECT_THAT(stamps_of(log), ElementsAre(0, 1000, 2000));
  EXPECT_TRUE(says(log, "no header"));
  EXPECT_TRUE(says(log, "seconds assumed"));
}

TEST(WideTable, TakesNumbersAsNamesOfChannels) {
  const auto log = log_of("Time,1,2,3\n0,20,21,22\n5,23,24,25\n");
  EXPECT_THAT(names_of(log), ElementsAre("1", "2", "3"));
  EXPECT_THAT(values_of(log, 0), ElementsAre(20.0, 23.0));
}

TEST(WideTable, GivesNamesThatComeTwiceANumber) {
  const auto log = log_of("time_s,Temp,Temp\n0,1,2\n1,3,4\n");
  EXPECT_THAT(names_of(log), ElementsAre("Temp", "Temp (2)"));
}

TEST(WideTable, IgnoresTextColumnsAndSaysSo) {
  const auto log =
      log_of("time_s,Pit,Heater,Note\n0,100,ON,\n1,101,OFF,\"lid, open\"\n2,102,ON,\n");
  EXPECT_THAT(names_of(log), ElementsAre("Pit"));
  EXPECT_TRUE(says(log, "'Heater', 'Note'"));
}

TEST(WideTable, ReadsOneRow) {
  const auto log = log_of("time,Pit\n2026-05-02T13:05:00Z,107.5");
  EXPECT_THAT(values_of(log, 0), ElementsAre(107.5));
  EXPECT_DOUBLE_EQ(log.interval_s, 0.0);
}

TEST(WideTable, ReadsQuotedCellsWithDelimitersQuotesAndLineEnds) {
  const auto log = log_of(
      "\"time_s\",\"Pit, \"\"old\"\" one\",Note\n\"0\",\"100\",\"a\nb, c\"\n1,101,\"say "
      "\"\"hi\"\"\"\n"
      "2,\"102\",\n");
  EXPECT_THAT(names_of(log), ElementsAre("Pit, \"old\" one"));
  EXPECT_THAT(values_of(log, 0), ElementsAre(100.0, 101.0, 102.0));
  EXPECT_EQ(log.rows, 3);
}

TEST(WideTable, ReadsTablesWithEveryCellQuoted) {
  const auto log = log_of(
      "\"time\",\"Pit\",\"Grate\"\r\n\"2026-05-02T13:05:00Z\",\"107.5\",\"93\"\r\n"
      "\"2026-05-02T13:05:01Z\",\"---\",\" 94 \"\r\n\"2026-05-02T13:05:02Z\",\"-999\",\"\"\r\n"
      "\"2026-05-02T13:05:03Z\",\"9\"\"5\",\"95\"\r\n");
  EXPECT_EQ(stamps_of(log).size(), 4U);
  EXPECT_EQ(log.channels[0].missing, 2);
  EXPECT_EQ(log.channels[1].missing, 1);
  EXPECT_THAT(log.channels[1].values[1], 94.0);
  EXPECT_THAT(log.channels[1].values[3], 95.0);
  ASSERT_EQ(log.skipped.size(), 1U);
  EXPECT_EQ(log.skipped[0].reason, "'9\"5' is not a number");
}

TEST(WideTable, LetsRowsLeaveOutBlanksAtTheirEndWhereManyDo) {
  const auto log = log_of("time_s,A,B\n0,1,2\n1,3\n2,4,5\n3,6\n4,7,8\n5,9\n");
  EXPECT_THAT(values_of(log, 0), ElementsAre(1, 3, 4, 6, 7, 9));
  EXPECT_EQ(log.channels[1].missing, 3);
  EXPECT_EQ(log.rows_skipped, 0);
}

TEST(WideTable, ObeysHintsForDelimiterAndDecimal) {
  Hints hints;
  hints.delimiter = ';';
  hints.decimal = ',';
  const auto log = log_of("time_s;A\n0;1,5\n1;2,5\n", hints);
  EXPECT_THAT(values_of(log, 0), ElementsAre(1.5, 2.5));
}

TEST(LongTable, ReadsTimeNameValue) {
  const auto log = log_of(
      "time,channel,value\n2026-05-02T13:05:00Z,Pit,225\n2026-05-02T13:05:00Z,Grate,210.5\n"
      "2026-05-02T13:05:30Z,Pit,226\n2026-05-02T13:05:31Z,Grate,---\n");
  EXPECT_THAT(names_of(log), ElementsAre("Pit", "Grate"));
  EXPECT_THAT(stamps_of(log, 0), ElementsAre(afternoon, afternoon + 30000));
  EXPECT_THAT(stamps_of(log, 1), ElementsAre(afternoon, afternoon + 31000));
  EXPECT_EQ(log.channels[1].missing, 1);
  EXPECT_EQ(log.out_of_order, 0);
  EXPECT_TRUE(says(log, "long"));
}

TEST(LongTable, ReadsUnitsOfEachChannel) {
  const auto log = log_of(
      "time_s,sensor,reading,unit\n0,Pit,225,F\n0,Fan,40,%\n1,Pit,226,F\n1,Fan,41,%\n2,Pit,108,"
      "C\n");
  EXPECT_EQ(log.channels[0].unit, ChannelUnit::fahrenheit);
  EXPECT_EQ(log.channels[1].unit, ChannelUnit::percent);
  ASSERT_EQ(log.skipped.size(), 1U);
  EXPECT_EQ(log.skipped[0].line, 6);
  EXPECT_EQ(log.skipped[0].column, 4);
  EXPECT_THAT(log.skipped[0].reason, HasSubstr("°C"));
}

TEST(LongTable, IsToldByItsCellsWhereNamesAreAbsent) {
  const auto log = log_of(
      "2026-05-02 13:05,left,225\n2026-05-02 13:05,right,230\n"
      "2026-05-02 13:15,left,226\n2026-05-02 13:15,right,229\n");
  EXPECT_THAT(names_of(log), ElementsAre("left", "right"));
  EXPECT_THAT(values_of(log, 1), ElementsAre(230.0, 229.0));
}

TEST(LongTable, TakesReadingsByHandSixARound) {
  std::string text = "time,spot,reading\n";
  for (int round = 0; round < 3; ++round) {
    for (const char* spot :
         {"left front", "left back", "middle", "right front", "right back", "dial"}) {
      text += fmt::format("13:{:02},{},{} F\n", 5 + 10 * round, spot, 250 + round);
    }
  }
  const auto log = log_of(text);
  ASSERT_EQ(log.channels.size(), 6U);
  EXPECT_EQ(log.channels[5].name, "dial");
  EXPECT_EQ(log.channels[5].unit, ChannelUnit::fahrenheit);
  EXPECT_THAT(values_of(log, 5), ElementsAre(250.0, 251.0, 252.0));
  EXPECT_DOUBLE_EQ(log.interval_s, 600.0);
}

TEST(LongTable, TakesChannelsToldByNumber) {
  const auto log = log_of("time_s,channel,value\n0,1,225\n0,2,230\n5,1,226\n5,2,231\n");
  EXPECT_THAT(names_of(log), ElementsAre("1", "2"));
}

TEST(Units, AreToldByNamesCellsOrHint) {
  Hints hints;
  hints.unit = "F";
  const auto log = log_of(
      "time_s,Grill (°F),T1 [C],temp_f,Fan %,Wind (km/h),Pit,Fan\n"
      "0,225,100,220,50,12,230,1\n1,226,101,221,51,13,231,0\n",
      hints);
  std::vector<ChannelUnit> units;
  for (const auto& channel : log.channels) units.push_back(channel.unit);
  using U = ChannelUnit;
  EXPECT_THAT(units, ElementsAre(U::fahrenheit, U::celsius, U::fahrenheit, U::percent, U::kmh,
                                 U::fahrenheit, U::unknown));
  EXPECT_FALSE(log.channels[5].unit_from_file);
  const auto cells = log_of("time_s,A,B\n0,225 F,20°C\n1,226 F,21°C\n2,100 C,22 °C\n");
  EXPECT_EQ(cells.channels[0].unit, U::fahrenheit);
  EXPECT_EQ(cells.channels[1].unit, U::celsius);
  EXPECT_EQ(cells.skipped_total, 1);
}

}  // namespace
}  // namespace pitwright::logs
