#include "food/kinetics.h"

#include <cmath>
#include <vector>

#include <gtest/gtest.h>

namespace pitwright::food {
namespace {

double per_minute(const Reaction& reaction, double t_c) {
  return 60 * reaction.rate(t_c);
}

// Source of the pair: Kajitani, Fukuoka & Sakai (2011); the table worked out apart from this code.
TEST(Actin, ChangesAtThePublishedRate) {
  for (const auto& [t, k] :
       {std::pair{60., .0072}, {65., .0274}, {70., .100}, {75., .352}, {80., 1.196}}) {
    EXPECT_NEAR(per_minute(actin(), t), k, .006 * k + 5e-5);
  }
}

// Source of the pair: Geileskey et al. (1998), read second-hand.
TEST(Myoglobin, ChangesAtThePublishedRate) {
  for (const auto& [t, k] :
       {std::pair{50., .0011}, {55., .0055}, {60., .0270}, {65., .127}, {70., .571}, {75., 2.46}}) {
    EXPECT_NEAR(per_minute(myoglobin(), t), k, .01 * k + 5e-5);
  }
}

// Source: Machlik & Draudt (1963): half the drop in 11 min at 58 degC.
TEST(Collagen, HalvesInElevenMinutesAtFiftyEight) {
  const std::vector<double> times{0, 660}, held{58, 58};
  EXPECT_NEAR(collagen_shrinkage().remaining(times, held), .5, 1e-12);
  EXPECT_NEAR(per_minute(collagen_shrinkage(), 58), .0630, 5e-5);
}

/// Where a scan at 10 K/min changes fastest.
double scan_peak(const Reaction& reaction) {
  double best = 0, at = 0;
  std::vector<double> times, temperatures;
  double before = 1;
  for (double t = 30; t < 100; t += .05) {
    times.push_back(t * 6);
    temperatures.push_back(t);
    const double now = reaction.remaining(times, temperatures);
    if (before - now > best) best = before - now, at = t - .025;
    before = now;
  }
  return at;
}

// Source: Palka & Wesierska (2014), peaks of differential scanning calorimetry. Actin's rate is
// from another paper: that its peak falls into the published 80-83 degC is an independent check.
TEST(Proteins, PeakWhereCalorimetryFindsThem) {
  EXPECT_NEAR(scan_peak(myosin()), 56, 2);
  EXPECT_NEAR(scan_peak(sarcoplasmic()), 66, 1.1);
  EXPECT_GT(scan_peak(actin()), 80);
  EXPECT_LT(scan_peak(actin()), 83.5);
}

TEST(Reaction, RemainingIsThatOfManySmallSteps) {
  const std::vector<double> times{0, 1800, 3600}, ramp{50, 70, 60};
  double log_sum = 0;
  constexpr int steps = 200000;
  for (int i = 0; i < steps; ++i) {
    const double t = (i + .5) * 3600 / steps;
    log_sum += myosin().rate(t < 1800 ? 50 + 20 * t / 1800 : 70 - 10 * (t - 1800) / 1800);
  }
  const double slow = std::exp(-log_sum * 3600 / steps);
  EXPECT_NEAR(myosin().remaining(times, ramp), slow, 1e-6 * slow);
}

TEST(CookValue, OfAnHourAtHundredIsSixtyMinutesAndTenthOfItOneZBelow) {
  const std::vector<double> times{0, 3600}, hot{100, 100}, below{67, 67};
  EXPECT_NEAR(cook_value(times, hot), 60, 1e-12);
  EXPECT_NEAR(cook_value(times, below), 6, 1e-12);
}

TEST(DoneAt, IsTheEndOfTheFirstUnbrokenDwell) {
  const std::vector<double> times{0, 100, 200, 300, 400, 500, 900};
  const std::vector<double> core{50, 70, 50, 50, 70, 70, 70};
  EXPECT_NEAR(*done_at(times, core, {60, 0}), 50, 1e-12);
  EXPECT_NEAR(*done_at(times, core, {60, 100}), 150, 1e-12);
  EXPECT_NEAR(*done_at(times, core, {60, 120}), 470, 1e-12);
  EXPECT_FALSE(done_at(times, core, {75, 0}));
  EXPECT_FALSE(done_at(times, core, {60, 700}));
  EXPECT_FALSE(doneness_of("crisp"));
  EXPECT_EQ(doneness_of("medium")->core_c, 60);
}

}  // namespace
}  // namespace pitwright::food
