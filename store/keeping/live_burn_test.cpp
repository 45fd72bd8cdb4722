#include "keeping/live_burn.h"

#include <gmock/gmock.h>

#include "db/example_burn_test.h"

namespace pitwright::keeping {
namespace {

using db::after_s;
using db::noon;
using db::record_of;
using ::testing::ElementsAre;
using ::testing::Field;
using ::testing::HasSubstr;

db::BurnLine line() {
  db::BurnLine line;
  line.name = "one";
  line.pit.grates = {{"lower", 0.15}};
  return line;
}

db::Series every_minute(const char* channel, int count) {
  db::Series series{channel, {}, {}};
  for (int i = 0; i < count; ++i) {
    series.at.push_back(after_s(60 * i));
    series.values.push_back(100.0 + i);
  }
  return series;
}

Burn burn_of(const std::vector<db::Record>& records, const std::vector<db::Series>& samples) {
  return live_burn(line(), records, samples).value().burn;
}

TEST(LiveBurn, StintsEndWhereTheNextBeginsAndTheLastWithTheSamples) {
  const auto burn = burn_of({record_of("1", db::Turn{"A", {}, after_s(60), {}}),
                             record_of("2", db::Turn{"C", {}, after_s(3000), {}}),
                             record_of("3", db::Turn{"B", {}, after_s(300), after_s(9000)}),
                             record_of("4", db::Turn{"late", {}, after_s(3540), {}}),
                             record_of("5", db::Turn{"ahead", {}, after_s(9999), {}})},
                            {every_minute("A1", 60)});
  ASSERT_EQ(burn.stints.size(), 3U);
  EXPECT_EQ(burn.stints[0].to_s, 300.0);
  EXPECT_EQ(burn.stints[1].setting, "B");
  EXPECT_EQ(burn.stints[1].to_s, 3000.0);
  EXPECT_EQ(burn.stints[2].to_s, 3540.0);
}

TEST(LiveBurn, WhatWasTakenBackOrCorrectedDoesNotCount) {
  const auto burn =
      burn_of({record_of("1", db::Turn{"A", {}, after_s(60), {}}),
               record_of("2", db::Turn{"B", {}, after_s(300), {}}),
               record_of("3", db::Turn{"B", {}, after_s(240), {}}, "2"),
               record_of("4", db::Mark{EventKind::lid, after_s(100), {}, "", "", ""}),
               record_of("5", db::Undo{"4", ""}),
               record_of("6", db::Mark{EventKind::fuel, after_s(90), after_s(95), "", "", "oak"})},
              {every_minute("A1", 10)});
  ASSERT_EQ(burn.stints.size(), 2U);
  EXPECT_EQ(burn.stints[1].from_s, 240.0);
  ASSERT_EQ(burn.events.size(), 1U);
  EXPECT_EQ(burn.events[0].text, "oak");
  EXPECT_EQ(burn.events[0].until_s, 95.0);
}

TEST(LiveBurn, AChannelThatMovesIsAProbeOncePerPlace) {
  const auto burn = burn_of({record_of("1", db::Placement{.channel = "A1", .spot = "left"}),
                             record_of("2", db::Placement{.channel = "A1",
                                                          .spot = "right",
                                                          .correction_k = -0.5,
                                                          .from = after_s(300)})},
                            {every_minute("A1", 10)});
  ASSERT_EQ(burn.probes.size(), 2U);
  EXPECT_EQ(burn.probes[0].readings.seconds.back(), 240.0);
  EXPECT_EQ(burn.probes[1].readings.seconds.front(), 300.0);
  EXPECT_EQ(burn.probes[1].correction.kelvins(), -0.5);
  EXPECT_EQ(burn.probes[0].grate, "lower");
  EXPECT_EQ(burn.probes[0].z_m, 0.15);
}

TEST(LiveBurn, SaysWhatItLeavesOut) {
  const std::vector records{record_of("1", db::Placement{.channel = "A1", .spot = "left"}),
                            record_of("2", db::Placement{.channel = "A2", .spot = "right"})};
  const std::vector samples{every_minute("A1", 3), every_minute("X", 3)};
  const auto made = live_burn(line(), records, samples).value();
  EXPECT_EQ(made.burn.probes.size(), 1U);
  EXPECT_THAT(made.assumed, ::testing::Contains("'A2' has no reading at 'right'; left out"));
  EXPECT_THAT(made.assumed, ::testing::Contains("no probe uses 'X'"));
}

TEST(LiveBurn, NeedsAReading) {
  const auto none = live_burn(line(), {}, {});
  ASSERT_FALSE(none.has_value());
  EXPECT_EQ(none.error().what, "burn 'one' has no reading yet");
}

TEST(LiveBurn, TakesItsHeadFromTheStore) {
  auto head = line();
  head.scale = Scale::celsius;
  head.timezone = "America/Chicago";
  const auto burn = live_burn(head, {}, std::vector{every_minute("A1", 2)}).value().burn;
  EXPECT_EQ(burn.title, "one");
  EXPECT_EQ(burn.matters.kelvins(), 5.0);
  EXPECT_EQ(burn.clock.zero, std::chrono::floor<std::chrono::milliseconds>(noon));
  EXPECT_EQ(burn.clock.timezone, "America/Chicago");
}

}  // namespace
}  // namespace pitwright::keeping
