#include "rehearse/feeding.h"

#include <cmath>

#include <gtest/gtest.h>

#include "rehearse/bodies.h"

namespace pitwright::rehearse {
namespace {

TEST(Feeding, RelaySwitchesAtItsBandAndAnswersAfterTheDeadTime) {
  Fire fire{
      .kind = FireKind::relay, .high_w = 2000, .low_w = 300, .dead_time_s = 20, .half_band_k = 1};
  Feeding feeding(fire, 120, 1000, 0, nullptr);
  // Ten ticks of what was on its way, then the decision taken at the start.
  for (int i = 0; i < 10; ++i) EXPECT_EQ(feeding.feed_w(i * tick_s, 118.5), 1000);
  EXPECT_EQ(feeding.feed_w(20, 120.9), 2000);  // decided at 118.5; inside the band it stays on
  for (int i = 11; i < 20; ++i) EXPECT_EQ(feeding.feed_w(i * tick_s, 121.5), 2000);
  EXPECT_EQ(feeding.feed_w(40, 121.5), 2000);  // decided at 120.9
  EXPECT_EQ(feeding.feed_w(42, 121.5), 300);   // decided at 121.5
}

TEST(Feeding, FeederDeliversTheShareItIsAskedForOverEachCycle) {
  Fire fire{.kind = FireKind::feeder,
            .high_w = 2000,
            .low_w = 200,
            .dead_time_s = 0,
            .gain_per_k = 0.05,
            .reset_s = 1e6,
            .cycle_s = 30};
  Feeding feeding(fire, 120, 1100, 0, nullptr);  // integral at one half of the span
  double joules = 0;
  for (int i = 0; i < 150; ++i) joules += feeding.feed_w(i * tick_s, 118) * tick_s;
  // Share 0.5 + 0.05 x 2 K = 0.6 of 1800 above 200 W; the integral adds 0.05 x 2 x 300 / 1e6 / 2.
  EXPECT_NEAR(joules / 300, 200 + 0.6 * 1800, 0.2);
}

TEST(Feeding, SplitsBringTheMeanHeatAndALowDialBringsMore) {
  auto fire = wood_splits(2500, 1200);
  fire.look_gain_per_k = 0.02;
  const auto mean_w = [&](double dial_c) {
    Feeding feeding(fire, 120, 0, 0, nullptr);
    double joules = 0;
    for (int i = 0; i < 6000; ++i) joules += feeding.feed_w(i * tick_s, dial_c) * tick_s;
    EXPECT_EQ(feeding.splits_s().size(), 10u);
    return joules / 12000;
  };
  EXPECT_NEAR(mean_w(120), 2500, 1e-6);
  EXPECT_NEAR(mean_w(115), 2500 * 1.1, 1e-6);
}

TEST(Feeding, AnEmptyHopperFeedsNoMoreAndSaysSince) {
  auto fire = pellet_relay(1000);
  fire.dead_time_s = 0;
  fire.fuel_j = 100 * fire.high_w;
  Feeding feeding(fire, 120, 0, 0, nullptr);
  double joules = 0;
  for (int i = 0; i < 500; ++i) joules += feeding.feed_w(i * tick_s, 100) * tick_s;
  EXPECT_NEAR(joules, fire.fuel_j, 1e-6);
  EXPECT_EQ(feeding.empty_at_s(), 100);
}

TEST(Feeding, ADamperMovesNoFasterThanItsTravel) {
  Fire fire{.kind = FireKind::damper,
            .high_w = 1000,
            .low_w = 0,
            .dead_time_s = 0,
            .gain_per_k = 1,
            .travel_s = 100};
  Feeding feeding(fire, 120, 0, 0, nullptr);
  for (int i = 1; i <= 50; ++i) EXPECT_NEAR(feeding.feed_w(i * tick_s, 20), 20.0 * i, 1e-9);
}

}  // namespace
}  // namespace pitwright::rehearse
