#include "rehearse/rehearse.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include <gtest/gtest.h>

#include "rehearse/scenarios.h"
#include "rehearse/test_pit.h"

namespace pitwright::rehearse {
namespace {

RehearsedBurn burned(const PitModel& model, const Kit& kit, const Plan& plan,
                     std::uint64_t seed = 1) {
  auto made = rehearse(model, kit, plan, seed);
  EXPECT_TRUE(made) << (made ? "" : made.error().what);
  return std::move(*made);
}

double sd_of(const std::vector<double>& values) {
  const double mean =
      std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
  double square = 0;
  for (const double v : values) square += (v - mean) * (v - mean);
  return std::sqrt(square / static_cast<double>(values.size() - 1));
}

TEST(Rehearse, TheSameSeedGivesTheSameBitsAndAnotherDoesNot) {
  const auto scenario = make_scenario("S7");
  ASSERT_TRUE(scenario);
  const auto a = burned(scenario->model, scenario->kit, scenario->plan, 4);
  const auto b = burned(scenario->model, scenario->kit, scenario->plan, 4);
  const auto c = burned(scenario->model, scenario->kit, scenario->plan, 5);
  ASSERT_EQ(a.burn.probes.size(), b.burn.probes.size());
  for (std::size_t i = 0; i < a.burn.probes.size(); ++i) {
    const auto& x = a.burn.probes[i].readings;
    const auto& y = b.burn.probes[i].readings;
    EXPECT_EQ(x.seconds, y.seconds);
    EXPECT_TRUE(std::ranges::equal(x.values, y.values, [](double p, double q) {
      return p == q || (std::isnan(p) && std::isnan(q));
    }));
  }
  EXPECT_NE(a.burn.probes[0].readings.values, c.burn.probes[0].readings.values);
}

TEST(Rehearse, StintsFollowThePlanAndReadingsCoverThem) {
  const auto model = test_box();
  auto plan = plain_plan({"A", "B", "A"}, 1800);
  plan.lead_s = 600;
  const auto made = burned(model, plain_kit(model), plan);
  ASSERT_EQ(made.burn.stints.size(), 3u);
  EXPECT_EQ(made.burn.stints[0].from_s, 600);
  EXPECT_EQ(made.burn.stints[2].setting, "A");
  EXPECT_EQ(made.burn.stints[2].to_s, 600 + 3 * 1800);
  EXPECT_EQ(made.burn.first_s(), 0);
  EXPECT_EQ(made.burn.last_s(), 6000);
  EXPECT_EQ(made.burn.probes[0].readings.seconds.size(), 601u);
}

TEST(Rehearse, ReSettingIsDrawnAtEachMoveAndNotBetweenAdjacentStintsOfOneSetting) {
  auto model = test_box();
  model.disturbance.resetting_lay_k = 1;
  model.disturbance.resetting_level_k = 1;
  const auto made = burned(model, plain_kit(model), plain_plan({"A", "B", "B", "A"}, 1200));
  ASSERT_EQ(made.resettings.size(), 4u);
  EXPECT_EQ(made.resettings[1].lean_k, made.resettings[2].lean_k);
  EXPECT_NE(made.resettings[0].lean_k, made.resettings[3].lean_k);
  EXPECT_NE(made.resettings[0].level_k, made.resettings[3].level_k);
}

TEST(Rehearse, ReSettingHasTheSizeItIsGiven) {
  auto model = test_box();
  model.disturbance.resetting_lay_k = 1.5;
  model.disturbance.resetting_level_k = 0.7;
  for (int i = 0; i < 4; ++i) model.spots.push_back(model.spots[0]);
  for (std::size_t i = 0; i < 6; ++i) model.spots[i].y_m = 0.1 * static_cast<double>(i * i % 5);
  numeric::Random random(8);
  double lay = 0, level = 0;
  constexpr int draws = 4000;
  for (int k = 0; k < draws; ++k) {
    const auto shift = draw_resetting(model, random);
    for (const double v : shift.lean_k) lay += v * v / (6.0 * draws);
    level += shift.level_k * shift.level_k / draws;
  }
  // The own part loses its mean: 0.5 x 5/6 + 0.5 of the square; 4 standard errors of the draws.
  EXPECT_NEAR(std::sqrt(lay), 1.5 * std::sqrt(0.5 * 5 / 6 + 0.5), 0.05);
  EXPECT_NEAR(std::sqrt(level), 0.7, 0.03);
}

TEST(Rehearse, SwapsAppearAsTwoPlacesOfOneChannel) {
  const auto scenario = make_scenario("S7");
  ASSERT_TRUE(scenario);
  const auto made = burned(scenario->model, scenario->kit, scenario->plan);
  std::vector<const Probe*> p2;
  for (const auto& probe : made.burn.probes) {
    if (probe.channel == "P2") p2.push_back(&probe);
  }
  ASSERT_EQ(p2.size(), 2u);
  EXPECT_EQ(p2[0]->spot, "P2");
  EXPECT_EQ(p2[1]->spot, "P4");
  EXPECT_LT(p2[0]->readings.seconds.back(), 4800);
  EXPECT_GE(p2[1]->readings.seconds.front(), 4800);
}

TEST(Thermometers, SentinelsAreMissingInTheBurnAndWordsInTheLog) {
  const auto scenario = make_scenario("S7");
  ASSERT_TRUE(scenario);
  const auto made = burned(scenario->model, scenario->kit, scenario->plan);
  const auto& log = made.logs[0];
  int missing = 0, codes = 0;
  for (const double v : log.cells[4]) missing += std::isnan(v) ? 1 : 0;
  for (const auto& [where, word] : log.words) codes += word == "-999" ? 1 : 0;
  EXPECT_EQ(missing, 17 * 6);
  EXPECT_EQ(codes, 36);
  // Frozen: one value for eight minutes.
  const auto& frozen = made.burn.probes[0].readings;
  const auto first = std::ranges::lower_bound(frozen.seconds, 3000.0) - frozen.seconds.begin();
  for (auto i = first; i < first + 48; ++i)
    EXPECT_EQ(frozen.values[static_cast<std::size_t>(i)],
              frozen.values[static_cast<std::size_t>(first)]);
}

TEST(Thermometers, ALagShrinksAndDelaysTheSwingAsFirstOrderTheorySays) {
  // Source: a first-order lag passes a sine of angular frequency w with gain 1/sqrt(1 + (w tau)^2).
  auto model = test_box();
  model.disturbance = {.gust_m_s = 0};
  for (auto& spot : model.spots) spot.place.eddy_k = 0;
  aim_swing(model, "A", 420, 5);
  auto kit = plain_kit(model);
  kit.loggers[0].interval_s = 2;
  kit.loggers[0].rounding = 0;
  auto& channels = kit.loggers[0].thermometers;
  for (auto& t : channels) t.noise_k = 0;
  channels[0].lag_s = 0;
  channels[1] = channels[0];
  channels[1].channel = "slow";
  channels[1].lag_s = 80;
  const auto made = burned(model, kit, plain_plan({"A"}, 4200));
  const double quick = sd_of(made.burn.probes[0].readings.values);
  const double slow = sd_of(made.burn.probes[1].readings.values);
  const double w = 2 * std::numbers::pi / truth_at(model, model.settings[0]).swing.period_s.value();
  // 3 %: the swing is not quite a sine.
  EXPECT_NEAR(slow / quick, 1 / std::sqrt(1 + w * w * 80 * 80), 0.03);
}

TEST(Thermometers, ABadClockIsAheadByWhatItWasGiven) {
  const auto scenario = make_scenario("S6");
  ASSERT_TRUE(scenario);
  const auto made = burned(scenario->model, scenario->kit, scenario->plan);
  ASSERT_EQ(made.logs.size(), 2u);
  const auto& stick = made.logs[1];
  EXPECT_NEAR(stick.stamp_s[0] - stick.true_s[0], 440, 0.5);
  EXPECT_NEAR(stick.stamp_s[120] - stick.true_s[120], 440 + 8, 0.5);
  for (const double v : stick.cells[0]) EXPECT_EQ(v * 2, std::round(v * 2));
  EXPECT_EQ(made.burn.probes.back().readings.seconds, stick.stamp_s);
}

TEST(Thermometers, ReadingsAreRoundedInTheLoggersUnit) {
  const auto model = test_box();
  auto kit = plain_kit(model);
  kit.loggers[0].rounding = 1;
  const auto made = burned(model, kit, plain_plan({"A"}, 1200));
  for (const double c : made.burn.probes[0].readings.values) {
    const double f = degC(c).fahrenheit();
    EXPECT_NEAR(f, std::round(f), 1e-9);
  }
}

TEST(Rehearse, APlanThatCannotBeIsRefusedWithWhatIsWrong) {
  const auto model = test_box();
  const auto kit = plain_kit(model);
  const auto unknown = rehearse(model, kit, plain_plan({"A", "Z"}, 1200), 1);
  ASSERT_FALSE(unknown);
  EXPECT_EQ(unknown.error().what, "the pit has no setting 'Z'; it has A, B");
  EXPECT_FALSE(rehearse(model, kit, plain_plan({"A"}, 30), 1));
  EXPECT_FALSE(rehearse(model, kit, {}, 1));
  auto wild = model;
  wild.body.air_j_k = std::nan("");
  EXPECT_FALSE(rehearse(wild, kit, plain_plan({"A"}, 1200), 1));
  wild = model;
  wild.settings[0].lean_k.pop_back();
  EXPECT_FALSE(rehearse(wild, kit, plain_plan({"A"}, 1200), 1));
  auto stray = kit;
  stray.loggers[0].thermometers[0].spot = 7;
  EXPECT_FALSE(rehearse(model, stray, plain_plan({"A"}, 1200), 1));
}

TEST(Rehearse, FuelRunsOutAndTheChamberFalls) {
  auto model = test_box();
  model.fire.fuel_j = 1350.0 * 3600;
  const auto made = burned(model, plain_kit(model), plain_plan({"A"}, 3 * 3600));
  EXPECT_GT(made.empty_at_s, 600);
  EXPECT_LT(made.empty_at_s, 4000);
  EXPECT_LT(made.burn.probes[0].readings.values.back(), 60);
}

}  // namespace
}  // namespace pitwright::rehearse
