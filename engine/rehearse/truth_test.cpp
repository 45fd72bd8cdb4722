#include "rehearse/truth.h"

#include <cmath>

#include <gtest/gtest.h>

#include "rehearse/aim.h"
#include "rehearse/burning.h"
#include "rehearse/rehearse.h"
#include "rehearse/test_pit.h"

namespace pitwright::rehearse {
namespace {

/// Mean of the level by the plainest way: a very long calm run from cold, no hastening, no cycles.
double slow_level_c(const PitModel& model, const Setting& setting) {
  Burning pit(model, nullptr);
  apply_calm(model, pit.inputs());
  pit.use(setting);
  pit.start_cold(0);
  const int soak = 30 * 1800;
  const int count = 40 * 451;  // forty whole periods of the hand-fed case
  double sum = 0;
  for (int i = 0; i < soak + count; ++i) {
    pit.tick(i * tick_s);
    if (i < soak) continue;
    double level = 0;
    for (std::size_t s = 0; s < model.spots.size(); ++s)
      level += pit.spot_c(static_cast<int>(s)) / static_cast<double>(model.spots.size());
    sum += level / count;
  }
  return sum;
}

TEST(Truth, IsWhereAVeryLongRunFromColdComes) {
  // 0.02 K: ten hours hold a broken swing of 8 K size for at most 0.2 % of the time.
  for (const auto& body : {thin_steel_box(), ceramic_egg(), brick_room()}) {
    auto model = test_box();
    model.body = body;
    aim_swing(model, "A", 420, 5);
    for (const auto& setting : model.settings)
      EXPECT_NEAR(truth_at(model, setting).level_c, slow_level_c(model, setting), 0.02);
  }
}

TEST(Truth, IsWhereAVeryLongRunOfAnOpenFireComes) {
  for (const auto& body : {thin_steel_box(), long_steel_barrel(), brick_room()}) {
    for (const double look : {0.0, 0.02}) {
      auto model = test_box();
      model.body = body;
      model.fire = wood_splits(needed_heat_w(model, model.settings[0]), 901);
      model.fire.look_gain_per_k = look;
      EXPECT_NEAR(truth_at(model, model.settings[0]).level_c,
                  slow_level_c(model, model.settings[0]), 0.02);
    }
  }
}

TEST(Truth, ChangesAreTheLongRunMeansOfAnUnquietPit) {
  // Gusts, eddies, drift, re-setting errors and noise average out over many long stints.
  auto model = test_box();
  model.disturbance = {.gust_m_s = 1,
                       .gust_lag_s = 90,
                       .drift_level_k = 0.8,
                       .drift_lay_k = 0.4,
                       .drift_lag_s = 1800,
                       .resetting_level_k = 0.5,
                       .resetting_lay_k = 0.5};
  std::vector<std::string> order;
  for (int i = 0; i < 20; ++i) order.insert(order.end(), {"A", "B", "B", "A"});
  const auto made = rehearse(model, plain_kit(model), plain_plan(order, 4200), 5);
  ASSERT_TRUE(made);
  const auto& burn = made->burn;
  const auto mean_of = [&](const std::string& setting, std::size_t probe) {
    double sum = 0;
    int n = 0;
    for (const auto& stint : burn.stints) {
      if (stint.setting != setting) continue;
      const auto& r = burn.probes[probe].readings;
      for (std::size_t i = 0; i < r.seconds.size(); ++i) {
        if (r.seconds[i] < stint.from_s + 2400 || r.seconds[i] >= stint.to_s) continue;
        sum += r.values[i];
        ++n;
      }
    }
    return sum / n;
  };
  const auto& a = made->truth.at("A");
  const auto& b = made->truth.at("B");
  for (const std::size_t i : {0u, 1u}) {
    // 80 stints: re-setting leaves 0.7 x sqrt(2/20) = 0.22 K (adjacent ones share it), drift less.
    EXPECT_NEAR(mean_of("B", i) - mean_of("A", i), b.spot_c[i] - a.spot_c[i], 0.6);
  }
  const double lay = (mean_of("B", 1) - mean_of("B", 0)) - (mean_of("A", 1) - mean_of("A", 0));
  EXPECT_NEAR(lay, b.tilt_k[0].value() - a.tilt_k[0].value(), 0.6);
}

TEST(Truth, TiltIsTheSlopeTimesTheExtent) {
  const auto model = test_box();
  const auto truth = truth_at(model, model.settings[0]);
  ASSERT_TRUE(truth.tilt_k[0]);
  EXPECT_NEAR(*truth.tilt_k[0], truth.run_k[1] - truth.run_k[0], 1e-9);
  EXPECT_FALSE(truth.tilt_k[1]);
  EXPECT_FALSE(truth.tilt_k[2]);
  EXPECT_NEAR(truth.spread_k, std::abs(truth.run_k[1] - truth.run_k[0]), 1e-12);
  EXPECT_NEAR(truth.run_k[0] + truth.run_k[1], 0.0, 1e-9);
}

TEST(Truth, OverSomeSpotsTakesTheLevelOfThoseSpots) {
  const auto model = test_box();
  const auto all = truth_of(model);
  const int left[] = {0};
  const auto some = over_spots(model, all, left);
  EXPECT_EQ(some.spots, std::vector<std::string>{"left"});
  EXPECT_DOUBLE_EQ(some.settings[0].level_c, all.settings[0].spot_c[0]);
  EXPECT_DOUBLE_EQ(some.settings[0].run_k[0], 0.0);
}

TEST(Aim, HitsLevelAndRunsOfHeldAndOpenFires) {
  for (const bool held : {true, false}) {
    auto model = test_box();
    if (!held) model.fire = wood_splits(1400, 900);
    const std::vector<Target> targets{{"A", 122.0, {3, -3}}, {"B", 127.5, {-1.5, 1.5}}};
    const double close_k = held ? 0.05 : 0.01;  // a relay's cycle locks to its ticks
    const auto report = aim(model, targets, close_k);
    EXPECT_TRUE(report.met) << report.worst_k;
    const auto truth = truth_of(model);
    EXPECT_NEAR(truth.at("A").level_c, 122.0, close_k);
    EXPECT_NEAR(truth.at("B").level_c, 127.5, close_k);
    EXPECT_NEAR(truth.at("A").run_k[0], 3.0, close_k);
    EXPECT_NEAR(truth.at("B").run_k[1], 1.5, close_k);
  }
}

TEST(AimSwing, MeetsPeriodAndSize) {
  auto model = test_box();
  const auto report = aim_swing(model, "A", 420, 6);
  ASSERT_TRUE(report.met);
  const auto truth = truth_at(model, model.settings[0]);
  EXPECT_NEAR(truth.swing.period_s.value(), 420, 0.03 * 420);
  EXPECT_NEAR(truth.swing.size_k, 6, 0.05 * 6);
}

}  // namespace
}  // namespace pitwright::rehearse
