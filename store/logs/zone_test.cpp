#include "logs/zone.h"

#include <gtest/gtest.h>

namespace pitwright::logs {
namespace {

constexpr std::int64_t minute = 60'000;
/// Wall 2025-11-02T00:00 in [ms] as if it were UTC; the zone's clocks go back at wall 2:00.
constexpr std::int64_t autumn = 1'762'041'600'000;
/// Chicago in summer: UTC-5. Source: IANA time zone database, rules US, 2007 on.
constexpr std::int64_t summer = 5 * 60 * minute;
constexpr std::int64_t winter = 6 * 60 * minute;

TEST(Zone, TellsTheRepeatedHourApartByTheRowsBefore) {
  auto zone = *Zone::named("America/Chicago");
  EXPECT_EQ(zone.utc(autumn + 50 * minute), autumn + 50 * minute + summer);
  EXPECT_EQ(zone.utc(autumn + 80 * minute), autumn + 80 * minute + summer);
  EXPECT_EQ(zone.utc(autumn + 110 * minute), autumn + 110 * minute + summer);
  EXPECT_EQ(zone.utc(autumn + 80 * minute), autumn + 80 * minute + winter);
  EXPECT_EQ(zone.utc(autumn + 110 * minute), autumn + 110 * minute + winter);
  EXPECT_EQ(zone.utc(autumn + 140 * minute), autumn + 140 * minute + winter);
  EXPECT_EQ(zone.twice(), 4);
}

TEST(Zone, KeepsARowThatIsALittleLateInItsOwnHour) {
  auto zone = *Zone::named("America/Chicago");
  zone.utc(autumn + 59 * minute);
  zone.utc(autumn + 61 * minute);
  zone.utc(autumn + 63 * minute);
  EXPECT_EQ(zone.utc(autumn + 62 * minute), autumn + 62 * minute + summer);
}

TEST(Zone, FollowsHourlyRowsThroughTheChange) {
  auto zone = *Zone::named("America/Chicago");
  zone.utc(autumn - 60 * minute);
  zone.utc(autumn);
  EXPECT_EQ(zone.utc(autumn + 60 * minute), autumn + 60 * minute + summer);
  EXPECT_EQ(zone.utc(autumn + 60 * minute), autumn + 60 * minute + winter);
}

TEST(Zone, HasNoTimeInTheHourThatIsLeftOut) {
  auto zone = *Zone::named("America/Chicago");
  const std::int64_t spring = 1'772'928'000'000;  // wall 2026-03-08T00:00
  EXPECT_EQ(zone.utc(spring + 119 * minute), spring + 119 * minute + winter);
  EXPECT_FALSE(zone.utc(spring + 150 * minute));
  EXPECT_EQ(zone.utc(spring + 180 * minute), spring + 180 * minute + summer);
}

TEST(Zone, KnowsUtcAndRefusesUnknownNames) {
  EXPECT_EQ(Zone::named("")->utc(autumn), autumn);
  EXPECT_EQ(Zone::named("UTC")->utc(autumn), autumn);
  EXPECT_FALSE(Zone::named("Chicago"));
}

}  // namespace
}  // namespace pitwright::logs
