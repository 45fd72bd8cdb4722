#include "documents/time_text.h"

#include <gtest/gtest.h>

#include "documents/zones.h"

namespace pitwright::documents {
namespace {

using std::chrono::milliseconds;

Instant at(std::int64_t ms) {
  return Instant(milliseconds(ms));
}

// 2026-05-02T17:52:00Z is 1777744320 s: 20575 days of 86400 s after 1970-01-01, plus 17 h 52 min.
// Source: the definition of the count; Chicago is 5 h behind UTC in summer, 6 h in winter (IANA tz
// database).
TEST(TimeText, IsIsoWithTheOffsetOfTheBurnsZone) {
  const BurnClock clock{at(1777744320'000), "America/Chicago"};
  EXPECT_EQ(time_text(clock, 0), "2026-05-02T12:52:00-05:00");
  EXPECT_EQ(time_text(clock, 59.6), "2026-05-02T12:53:00-05:00");
  EXPECT_EQ(time_text(clock, -0.4), "2026-05-02T12:52:00-05:00");
  EXPECT_EQ(time_text(clock, 7 * 3600), "2026-05-02T19:52:00-05:00");
}

TEST(TimeText, FollowsSummerTimeWithinABurn) {
  // 2026-03-08T07:59:59Z; Chicago's clocks jump from 2:00 to 3:00 at 08:00Z.
  const BurnClock clock{at(1772956799'000), "America/Chicago"};
  EXPECT_EQ(time_text(clock, 0), "2026-03-08T01:59:59-06:00");
  EXPECT_EQ(time_text(clock, 1), "2026-03-08T03:00:00-05:00");
}

TEST(TimeText, ShowsUtcWhereNoZoneIsTold) {
  EXPECT_EQ(time_text({at(0), ""}, 0.5), "1970-01-01T00:00:01+00:00");
  EXPECT_EQ(time_text({at(0), "Asia/Kolkata"}, 0), "1970-01-01T05:30:00+05:30");
}

TEST(TimeText, IsAnOffsetWhereTheBurnHasNoZero) {
  EXPECT_EQ(time_text({}, 2100), "0:35:00");
  EXPECT_EQ(time_text({}, 90061), "25:01:01");
  EXPECT_EQ(time_text({}, -5), "-0:00:05");
}

TEST(Zones, RefuseReadingsThatSummerTimeSkipsOrRepeats) {
  const auto local = [](std::int64_t s) { return LocalTime(milliseconds(s * 1000)); };
  // Local seconds of 2026-03-08T02:30 and 2026-11-01T01:30.
  const auto skipped = instant_of(local(1772937000), "America/Chicago");
  ASSERT_FALSE(skipped);
  EXPECT_NE(skipped.error().what.find("2026-03-08T02:30:00"), std::string::npos);
  const auto twice = instant_of(local(1793496600), "America/Chicago");
  ASSERT_FALSE(twice);
  EXPECT_NE(twice.error().what.find("twice"), std::string::npos);
}

TEST(Zones, GoThereAndBack) {
  const auto instant = at(1777744320'250);
  const auto local = local_time_of(instant, "America/Chicago");
  EXPECT_EQ(local_text(local), "2026-05-02T12:52:00.250");
  EXPECT_EQ(instant_of(local, "America/Chicago").value(), instant);
  EXPECT_FALSE(is_known_zone("America/Chicgo"));
}

}  // namespace
}  // namespace pitwright::documents
