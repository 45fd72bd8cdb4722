#include "logs/stamps.h"

#include <chrono>

#include <fmt/format.h>
#include <gtest/gtest.h>

namespace pitwright::logs {
namespace {

/// [ms] of date and clock, offset taken off; -1: not read.
std::int64_t read(std::string_view text, DateOrder order = DateOrder::day_first) {
  Stamp stamp;
  if (!parse_stamp(text, order, stamp)) return -1;
  return stamp.days * 86'400'000 + stamp.clock_ms - stamp.offset_min * 60'000LL;
}

constexpr std::int64_t day = 86'400'000;
/// 2026-05-02: 20575 days, `echo $(( $(date -u -d 2026-05-02 +%s) / 86400 ))`.
constexpr std::int64_t second_of_may = 20575 * day;

TEST(Stamp, ReadsTheFormsOfIso8601) {
  for (const char* text :
       {"2026-05-02T13:05:09Z", "2026-05-02 13:05:09", "2026-05-02T13:05:09+00:00",
        "2026-05-02T15:05:09+02", "2026-05-02T07:35:09-0530", "20260502T130509Z",
        "2026-05-02t13:05:09z", "2026/05/02 13:05:09 UTC"}) {
    EXPECT_EQ(read(text), second_of_may + 47'109'000) << text;
  }
  EXPECT_EQ(read("2026-05-02T24:00"), second_of_may + day);
  EXPECT_EQ(read("2026-05-02"), second_of_may);
}

TEST(Stamp, ReadsDatesInTheOrderTold) {
  EXPECT_EQ(read("2.5.2026"), second_of_may);
  EXPECT_EQ(read("5/2/2026", DateOrder::month_first), second_of_may);
  EXPECT_EQ(read("26-05-02", DateOrder::year_first), second_of_may);
  EXPECT_EQ(read("Sat, 2 May 2026 13:05"), second_of_may + 47'100'000);
  EXPECT_EQ(read("13/5/2026", DateOrder::month_first), -1);
}

TEST(Stamp, ReadsHalvesOfTheDay) {
  EXPECT_EQ(read("12:00 AM"), 0);
  EXPECT_EQ(read("12:30pm"), 45'000'000);
  EXPECT_EQ(read("1:05 p.m."), 47'100'000);
  EXPECT_EQ(read("13:05 PM"), -1);
  EXPECT_EQ(read("0:05 AM"), -1);
}

TEST(Stamp, AgreesWithTheCalendarOverFourCenturies) {
  using namespace std::chrono;
  for (sys_days date = sys_days(1900y / 1 / 1); date < sys_days(2300y / 1 / 1); date += days(13)) {
    const year_month_day ymd(date);
    const auto text =
        fmt::format("{:04}-{:02}-{:02}", static_cast<int>(ymd.year()),
                    static_cast<unsigned>(ymd.month()), static_cast<unsigned>(ymd.day()));
    Stamp stamp;
    ASSERT_TRUE(parse_stamp(text, DateOrder::day_first, stamp)) << text;
    ASSERT_EQ(stamp.days, date.time_since_epoch().count()) << text;
  }
}

TEST(Stamp, RefusesWhatIsNone) {
  for (const char* text :
       {"", "225", "12.5", "2026-02-30", "2026-13-01", "2026-05-02T", "2026-05-02T25:00", "13:60",
        "2026-05-02 13:05:00 CDT", "2026-05-02T13:05:00Z and more", "1/2/3/4", "12.05", "hello",
        "5:5", "20260502", "2026-05-02T13:05:61", "24:00:00.5.5"}) {
    EXPECT_FALSE(is_stamp(text)) << text;
  }
}

TEST(Stamp, KnowsWhetherTheOrderOfDayAndMonthMatters) {
  Stamp stamp;
  ASSERT_TRUE(parse_stamp("02/05/2026", DateOrder::day_first, stamp));
  EXPECT_TRUE(stamp.order_matters);
  for (const char* text : {"05/05/2026", "2026-05-02", "2-May-2026", "13:05"}) {
    ASSERT_TRUE(parse_stamp(text, DateOrder::day_first, stamp));
    EXPECT_FALSE(stamp.order_matters) << text;
  }
}

}  // namespace
}  // namespace pitwright::logs
