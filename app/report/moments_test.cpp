#include "report/moments.h"

#include <gtest/gtest.h>

#include "samples/sample_parts.h"

namespace pitwright::report {
namespace {

Burn afternoon() {
  return samples::burn_of("test", 300);  // 13:00 to 18:00 in Chicago, UTC-5 in May
}

TEST(MomentText, IsTheBurnsOwnWallClock) {
  EXPECT_EQ(moment_text(afternoon(), 4200), "14:10");
  EXPECT_EQ(day_text(afternoon()), "2 May 2026");
}

TEST(MomentText, NamesTheDayWhereTheBurnRunsPastMidnight) {
  EXPECT_EQ(moment_text(samples::burn_of("test", 720), 41400), "3 May 00:30");
}

TEST(MomentText, IsAnOffsetWithoutAClock) {
  auto burn = afternoon();
  burn.clock = {};
  EXPECT_EQ(moment_text(burn, 4200), "1:10");
  EXPECT_EQ(day_text(burn), "");
}

TEST(DurationText, NeverShowsAFalseSecond) {
  EXPECT_EQ(duration_text(38), "40 s");
  EXPECT_EQ(duration_text(412), "6 min 50 s");
  EXPECT_EQ(duration_text(598), "10 min");
  EXPECT_EQ(duration_text(1263), "21 min");
  EXPECT_EQ(duration_text(3600), "1 h");
  EXPECT_EQ(duration_text(12900), "3 h 35 min");
  EXPECT_EQ(duration_range_text(840, 1080), "14 to 18 min");
  EXPECT_EQ(duration_range_text(840, 840), "14 min");
}

TEST(ParseMoment, ReadsWhatThePageShowsAndStampsAndOffsets) {
  const auto burn = afternoon();
  for (const auto* text :
       {"14:10", "14:10:00", "2026-05-02T14:10", "2026-05-02 14:10:00", "2026-05-02T19:10:00Z",
        "2026-05-02T21:10:00+02:00", "+1:10", "70 min"}) {
    const auto moment = parse_moment(text, burn);
    ASSERT_TRUE(moment) << text << ": " << moment.error().what;
    EXPECT_DOUBLE_EQ(*moment, 4200.0) << text;
  }
}

TEST(ParseMoment, ATimeOfDayAfterMidnightIsTheNextDays) {
  EXPECT_DOUBLE_EQ(*parse_moment("0:30", samples::burn_of("test", 720)), 41400.0);
}

TEST(ParseMoment, WithoutAClockHoursAndMinutesAreAnOffset) {
  auto burn = afternoon();
  burn.clock = {};
  EXPECT_DOUBLE_EQ(*parse_moment("1:10", burn), 4200.0);
}

TEST(ParseMoment, RefusesWhatItCannotPlace) {
  const auto burn = afternoon();
  for (const auto* text : {"", "noon", "25:00", "14:60", "0:35", "2026-13-02T14:10",
                           "2026-05-02T14:10+1", "2026-05-02", "12 h", "-5 min"}) {
    EXPECT_FALSE(parse_moment(text, burn)) << text;
  }
  EXPECT_NE(parse_moment("0:35", burn).error().what.find("13:00 to 18:00"), std::string::npos);
}

}  // namespace
}  // namespace pitwright::report
