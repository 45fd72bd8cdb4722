// Times of rows, read through read_log. Moments in [ms] are from GNU date.
#include <gmock/gmock.h>

#include "logs/read_text_test.h"

namespace pitwright::logs {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

/// First stamps of a table "time,A" with the given time cells.
std::vector<std::int64_t> read_stamps(const std::vector<std::string>& cells,
                                      const Hints& hints = {}, const std::string& name = "time") {
  std::string text = name + ";A\n";
  for (const auto& cell : cells) text += cell + ";20.5\n";
  return stamps_of(log_of(text, hints));
}

TEST(Times, ReadIso8601WithOffsetsAndFractions) {
  EXPECT_THAT(read_stamps({"2026-05-02T13:05:00.250Z", "2026-05-02T08:05:00.5-05:00",
                           "2026-05-02 15:05:00,75+0200", "20260502T130501Z"}),
              ElementsAre(afternoon + 250, afternoon + 500, afternoon + 750, afternoon + 1000));
}

TEST(Times, WithoutOffsetOrZoneAreUtcAndItIsSaid) {
  const auto log = log_of("time,A\n2026-05-02 13:05:00,1\n2026-05-02 13:05:01,1\n");
  EXPECT_THAT(stamps_of(log), ElementsAre(afternoon, afternoon + 1000));
  EXPECT_TRUE(says(log, "taken as UTC"));
}

TEST(Times, ReadEpochNumbersBySize) {
  EXPECT_THAT(read_stamps({"1777727100", "1777727101.5"}),
              ElementsAre(afternoon, afternoon + 1500));
  EXPECT_THAT(read_stamps({"1777727100000", "1777727101500"}),
              ElementsAre(afternoon, afternoon + 1500));
  EXPECT_THAT(read_stamps({"1777727100000000", "1777727101500000"}),
              ElementsAre(afternoon, afternoon + 1500));
  EXPECT_THAT(read_stamps({"1777727100000000000", "1777727101500000000"}),
              ElementsAre(afternoon, afternoon + 1500));
}

TEST(Times, ReadDayFirstWhereAValueAboveTwelveShowsIt) {
  EXPECT_THAT(read_stamps({"30/04/2026 23:59:59", "01/05/2026 00:00:00", "02/05/2026 13:05"}),
              ElementsAre(afternoon - 133'501'000, afternoon - 133'500'000, afternoon));
}

TEST(Times, ReadMonthFirstWhereAValueAboveTwelveShowsIt) {
  EXPECT_THAT(read_stamps({"5/2/2026 1:05 PM", "5/13/2026 1:05 PM"}),
              ElementsAre(afternoon, afternoon + 11 * 86'400'000LL));
}

TEST(Times, AreDecidedByALateRowOfTheFile) {
  std::string text = "time,A\n";
  for (int i = 0; i < 40'000; ++i) text += fmt::format("02/05/2026 13:05:{:02},1\n", i % 60);
  const auto open = error_of(text);
  EXPECT_THAT(open, HasSubstr("date = \"day-first\""));
  EXPECT_THAT(open, HasSubstr("date = \"month-first\""));
  text += "13/05/2026 13:05:00,1\n";
  EXPECT_EQ(stamps_of(log_of(text)).front(), afternoon);
}

TEST(Times, AskWhichOfDayAndMonthIsFirst) {
  const std::string text = "time,A\n02/05/2026 13:05,1\n03/05/2026 13:05,1\n";
  EXPECT_THAT(error_of(text), HasSubstr("date = \"day-first\""));
  Hints hints;
  hints.date = DateOrder::day_first;
  EXPECT_EQ(stamps_of(log_of(text, hints)).front(), afternoon);
  hints.date = DateOrder::month_first;  // 5 February: date -u -d 2026-02-05T13:05 +%s
  EXPECT_EQ(stamps_of(log_of(text, hints)).front(), 1'770'296'700'000);
}

TEST(Times, DoNotAskWhereBothOrdersAreTheSameDay) {
  EXPECT_EQ(read_stamps({"05/05/2026 13:05", "05/05/2026 13:06"}).front(),
            afternoon + 3 * 86'400'000LL);
}

TEST(Times, ReadNamedMonthsAndTwoDigitYears) {
  EXPECT_THAT(read_stamps({"2-May-26 13:05", "2 May 2026 13:06", "May 2, 2026 1:07 pm"}),
              ElementsAre(afternoon, afternoon + 60'000, afternoon + 120'000));
}

TEST(Times, ReadSplitDateAndTime) {
  const auto log = log_of("Date,Time,A\n2026-05-02,13:05:00,1\n2026-05-02,13:05:01,2\n");
  EXPECT_THAT(stamps_of(log), ElementsAre(afternoon, afternoon + 1000));
  EXPECT_THAT(names_of(log), ElementsAre("A"));
  Hints hints;
  hints.time_columns = {"t2", "d"};
  const auto told = log_of("t2,x,d\n13:05:00,1,2026-05-02\n13:05:01,2,2026-05-02\n", hints);
  EXPECT_THAT(stamps_of(told), ElementsAre(afternoon, afternoon + 1000));
}

TEST(Times, ReadElapsedClocksPastADay) {
  const auto log = log_of("Elapsed,A\n0:00:00,1\n23:59:59,2\n24:00:00,3\n30:00:00.5,4\n");
  EXPECT_EQ(log.stamps, Stamps::elapsed);
  EXPECT_THAT(stamps_of(log), ElementsAre(0, 86'399'000, 86'400'000, 108'000'500));
}

TEST(Times, ReadElapsedNumbersInTheUnitOfTheirName) {
  EXPECT_THAT(read_stamps({"0", "1.01"}, {}, "time_s"), ElementsAre(0, 1010));
  EXPECT_THAT(read_stamps({"0", "1.5"}, {}, "Time (min)"), ElementsAre(0, 90'000));
  EXPECT_THAT(read_stamps({"0", "90"}, {}, "seconds"), ElementsAre(0, 90'000));
  EXPECT_THAT(read_stamps({"0", "250"}, {}, "t [ms]"), ElementsAre(0, 250));
  EXPECT_THAT(read_stamps({"0", "0.5"}, {}, "Elapsed hours"), ElementsAre(0, 1'800'000));
  EXPECT_THAT(stamps_of(log_of("time_s;A\n0,0;20,5\n0,5;21,0\n")), ElementsAre(0, 500));
}

TEST(Times, CountElapsedFromAToldZeroPlusOffset) {
  Hints hints;
  hints.zero = Instant(std::chrono::milliseconds(afternoon));
  hints.offset = Seconds(440.0);
  const auto log = log_of("time_s,A\n0,1\n5,2\n", hints);
  EXPECT_EQ(log.stamps, Stamps::instants);
  EXPECT_THAT(stamps_of(log), ElementsAre(afternoon + 440'000, afternoon + 445'000));
}

TEST(Times, OfDayRollOverMidnight) {
  const auto log = log_of("time,A\n11:59:58 PM,1\n11:59:59 PM,2\n12:00:00 AM,3\n12:00:01 AM,4\n");
  EXPECT_EQ(log.stamps, Stamps::elapsed);
  EXPECT_THAT(stamps_of(log), ElementsAre(86'398'000, 86'399'000, 86'400'000, 86'401'000));
  EXPECT_EQ(log.out_of_order, 0);
  EXPECT_TRUE(says(log, "midnight before the first row"));
}

TEST(Times, OfDayTakeTheDateOfZeroInTheirZone) {
  Hints hints;
  hints.timezone = "America/Chicago";
  // 2026-05-03T03:00:00Z is still the evening of 2 May in Chicago.
  hints.zero = Instant(std::chrono::milliseconds(1'777'777'200'000));
  const auto log = log_of("time,A\n08:05:00,1\n20:00:00,2\n07:00:00,3\n", hints);
  EXPECT_THAT(stamps_of(log),
              ElementsAre(afternoon, afternoon + 42'900'000, afternoon + 82'500'000));
}

TEST(Times, OfDayAndElapsedAreTheSameFromMidnight) {
  EXPECT_THAT(read_stamps({"13:05:00", "13:05:10"}), ElementsAre(47'100'000, 47'110'000));
  EXPECT_THAT(read_stamps({"0:00:00", "0:00:10"}), ElementsAre(0, 10'000));
}

TEST(Times, InANamedZoneCrossTheRepeatedHourInOrder) {
  Hints hints;
  hints.timezone = "America/Chicago";
  std::string text = "time,A\n";
  // 2025-11-02 05:00Z is 00:00 CDT; clocks go back at 07:00Z. One row every 10 min for 4 h.
  for (int i = 0; i < 24; ++i) {
    const int wall = i * 10 - (i >= 12 ? 60 : 0);
    text += fmt::format("2025-11-02 {:02}:{:02}:00,{}\n", wall / 60, wall % 60, i);
  }
  const auto log = log_of(text, hints);
  const auto stamps = stamps_of(log);
  ASSERT_EQ(stamps.size(), 24U);
  for (std::size_t i = 0; i < stamps.size(); ++i) {
    EXPECT_EQ(stamps[i], 1'762'059'600'000 + static_cast<std::int64_t>(i) * 600'000) << i;
  }
  EXPECT_EQ(log.duplicates, 0);
  EXPECT_TRUE(says(log, "clocks went back: 12 stamps"));
}

TEST(Times, ThatNeverWereCostTheirRows) {
  Hints hints;
  hints.timezone = "America/Chicago";
  const auto log = log_of(
      "time,A\n2026-03-08 01:59:00,1\n2026-03-08 02:30:00,2\n2026-03-08 03:00:00,3\n", hints);
  EXPECT_THAT(values_of(log, 0), ElementsAre(1.0, 3.0));
  EXPECT_EQ(stamps_of(log).at(1) - stamps_of(log).at(0), 60'000);
  ASSERT_EQ(log.skipped.size(), 1U);
  EXPECT_EQ(log.skipped[0].line, 3);
  EXPECT_THAT(log.skipped[0].reason, HasSubstr("clocks went forward"));
}

TEST(Times, NeedAKnownZoneAndAKnownColumn) {
  Hints hints;
  hints.timezone = "America/Nowhere";
  EXPECT_THAT(error_of("time,A\n2026-05-02 13:05,1\n", hints), HasSubstr("America/Nowhere"));
  Hints column;
  column.time_columns = {"when"};
  EXPECT_THAT(error_of("time,A\n2026-05-02 13:05,1\n", column), HasSubstr("time, A"));
  EXPECT_THAT(error_of("count,A\n1,20\n2,21\n3,19\n"), HasSubstr("name it with `time`"));
}

TEST(Times, OfAToldColumnAreUsedWhateverItsName) {
  Hints hints;
  hints.time_columns = {"count"};
  EXPECT_THAT(stamps_of(log_of("A,count\n20,1\n21,2\n", hints)), ElementsAre(1000, 2000));
}

}  // namespace
}  // namespace pitwright::logs
