// What people who cook this way hold true, checked on the rehearsed pits. Every number here is
// common practice, no source. That three snapshots, one row a setting, prove nothing is checked on
// whole burns in tests/scenarios/one_row_test.cpp.

#include <algorithm>
#include <cmath>
#include <numeric>

#include <gtest/gtest.h>

#include "rehearse/bodies.h"
#include "rehearse/burning.h"
#include "rehearse/scenarios.h"
#include "rehearse/test_pit.h"

namespace pitwright::rehearse {
namespace {

double as_f(double kelvins) {
  return kelvins * 1.8;
}

/// A calm pit at a setting, soaked, that can be moved to another one.
struct Calm {
  PitModel model;
  Burning pit{model, nullptr};
  double t_s = 0;

  explicit Calm(PitModel m, std::size_t setting = 0) : model(std::move(m)) {
    apply_calm(model, pit.inputs());
    pit.use(model.settings[setting]);
  }
  void run(double span_s) {
    for (const double end_s = t_s + span_s; t_s < end_s; t_s += tick_s) pit.tick(t_s);
  }
  double level_c() const {
    double sum = 0;
    for (std::size_t i = 0; i < model.spots.size(); ++i) sum += pit.spot_c(static_cast<int>(i));
    return sum / static_cast<double>(model.spots.size());
  }
  /// Mean level over the next `span_s`.
  double mean_level_c(double span_s) {
    double sum = 0;
    int n = 0;
    for (const double end_s = t_s + span_s; t_s < end_s; t_s += tick_s, ++n) {
      pit.tick(t_s);
      sum += level_c();
    }
    return sum / n;
  }
};

TEST(TradeFacts, APelletFedPitSwingsFiveToFifteenEitherWayAtItsSensor) {
  for (const auto* name : {"hopper-tray", "twin-shelf"}) {
    const auto scenario = make_scenario(name);
    ASSERT_TRUE(scenario);
    for (const auto& setting : truth_of(scenario->model).settings) {
      EXPECT_GE(as_f(setting.dial_swing.size_k), 2 * 5);
      EXPECT_LE(as_f(setting.dial_swing.size_k), 2 * 15);
    }
  }
}

TEST(TradeFacts, TheSpotsOfAPelletFedPitSpreadTenToFifty) {
  const auto scenario = make_scenario("hopper-tray");
  ASSERT_TRUE(scenario);
  const auto truth = truth_of(scenario->model).at("A");
  EXPECT_GE(as_f(truth.spread_k), 10);
  EXPECT_LE(as_f(truth.spread_k), 50);
}

TEST(TradeFacts, ThinSteelIsSoakedTwentyToThirtyMinutesAfterReachingHeat) {
  // Soaked: the level of a steady fire is within 3 degF of where it ends. Reaching heat: within
  // a tenth of the rise. A thermostat's level is held, so the fire here is a steady one.
  auto model = test_box();
  model.fire.kind = FireKind::steady;
  model.fire.high_w = needed_heat_w(test_box(), model.settings[0]);
  const double end_c = truth_at(model, model.settings[0]).level_c;
  Calm calm(model);
  calm.pit.start_cold(0);
  const double rise_k = end_c - model.weather.outside_c;
  double reached_s = -1, soaked_s = -1;
  while (soaked_s < 0 && calm.t_s < 4 * 3600) {
    calm.run(10);
    const double short_k = end_c - calm.level_c();
    if (reached_s < 0 && short_k < 0.1 * rise_k) reached_s = calm.t_s;
    if (short_k < 3 / 1.8) soaked_s = calm.t_s;
  }
  EXPECT_GE((soaked_s - reached_s) / 60, 20);
  EXPECT_LE((soaked_s - reached_s) / 60, 30);
}

TEST(TradeFacts, CeramicTakesFarLongerThanThinSteel) {
  const auto soak_s = [](const Body& body) {
    auto model = test_box();
    model.body = body;
    model.fire.low_w = 0;
    const double need_w = needed_heat_w(model, model.settings[0]);
    model.fire.kind = FireKind::steady;
    model.fire.high_w = need_w;
    const double end_c = truth_at(model, model.settings[0]).level_c;
    Calm calm(model);
    calm.pit.start_cold(0);
    while (end_c - calm.level_c() > 3 && calm.t_s < 24 * 3600) calm.run(60);
    return calm.t_s;
  };
  EXPECT_GT(soak_s(ceramic_egg()), 2 * soak_s(thin_steel_box()));
  EXPECT_GT(soak_s(brick_room()), 3 * soak_s(thin_steel_box()));
}

TEST(TradeFacts, ThinSteelHasAnsweredAVentMoveAfterFifteenToTwentyMinutes) {
  // An open fire and a vent opened by a third: four fifths of the answer after twenty minutes, and
  // clearly not all of it after five.
  auto model = test_box();
  model.fire.kind = FireKind::steady;
  model.fire.high_w = needed_heat_w(test_box(), model.settings[0]);
  model.settings[1] = model.settings[0];
  model.settings[1].name = "B";
  model.settings[1].vent = 1.33;
  const auto truth = truth_of(model);
  Calm calm(model);
  calm.pit.start_soaked(0);
  calm.run(600);
  calm.pit.use(model.settings[1]);
  const double whole_k = truth.at("B").level_c - truth.at("A").level_c;
  ASSERT_LT(whole_k, -3);
  calm.run(300);
  EXPECT_LT((calm.level_c() - truth.at("A").level_c) / whole_k, 0.7);
  calm.run(900);
  EXPECT_GT((calm.level_c() - truth.at("A").level_c) / whole_k, 0.8);
}

TEST(TradeFacts, AnUpperShelfRunsHotterThanALowerOne) {
  const auto scenario = make_scenario("tall-cabinet");
  ASSERT_TRUE(scenario);
  for (const auto& setting : truth_of(scenario->model).settings)
    EXPECT_GT(setting.tilt_k[2].value(), 2);
}

TEST(TradeFacts, AProbeClippedToBareSteelLagsAndReadsTheMetal) {
  const auto scenario = make_scenario("gas-tray");
  ASSERT_TRUE(scenario);
  auto free = *scenario;
  auto& third = free.kit.loggers[0].thermometers[2];
  third.touching = 0;
  const auto touching = rehearse(*scenario, 2, {.with_truth = false});
  const auto clear = rehearse(free, 2, {.with_truth = false});
  ASSERT_TRUE(touching && clear);
  const auto readings = [](const RehearsedBurn& made) -> const std::vector<double>& {
    const auto probe = std::ranges::find(made.burn.probes, "P3", &Probe::channel);
    return probe->readings.values;
  };
  const auto& metal = readings(*touching);
  const auto& air_c = readings(*clear);
  double mean = 0, metal_size = 0, air_size = 0;
  constexpr std::size_t from = 0, to = 230;  // the first stint
  for (std::size_t i = from; i < to; ++i) mean += (metal[i] - air_c[i]) / to;
  const auto size_of = [&](const std::vector<double>& v) {
    const auto [low, high] = std::minmax_element(v.begin() + from, v.begin() + to);
    return *high - *low;
  };
  metal_size = size_of(metal);
  air_size = size_of(air_c);
  EXPECT_NEAR(as_f(mean), 28, 12);
  EXPECT_LT(metal_size / air_size, 0.65);
  // Late: the metal's swing is most like the air's of a while before.
  const double metal_mean = std::accumulate(metal.begin() + from, metal.begin() + to, 0.0) / to;
  double best = 0, late_s = 0;
  for (std::size_t shift = 0; shift <= 18; ++shift) {
    double sum = 0;
    for (std::size_t i = 18; i < to; ++i) sum += (metal[i] - metal_mean) * air_c[i - shift];
    if (sum <= best) continue;
    best = sum;
    late_s = 10.0 * static_cast<double>(shift);
  }
  EXPECT_GE(late_s, 20);
  EXPECT_LE(late_s, 120);
}

TEST(TradeFacts, ABlackenedSensorReadsALittleHotAndACrustedOneLowAndLate) {
  auto model = test_box();
  Setting black = model.settings[0], crust = model.settings[0];
  black.name = "black";
  black.sensor_glow = 0.04;
  crust.name = "crust";
  crust.sensor_shade = 0.3;
  crust.sensor_lag = 4;
  model.settings = {model.settings[0], black, crust};
  const auto truth = truth_of(model);
  // The controller holds the dial; what the dial hides shows as its gap.
  const double clean_gap = truth.settings[0].dial_gap_k;
  EXPECT_GT(as_f(truth.at("black").dial_gap_k - clean_gap), 2);
  EXPECT_LT(as_f(truth.at("black").dial_gap_k - clean_gap), 15);
  EXPECT_LT(as_f(truth.at("crust").dial_gap_k - clean_gap), -5);
  EXPECT_GT(truth.at("crust").swing.period_s.value(), truth.settings[0].swing.period_s.value());
  EXPECT_GT(truth.at("crust").swing.size_k, truth.settings[0].swing.size_k);
}

TEST(TradeFacts, WhereThePlatesCarryTheHeatAlongTheEndUnderTheStackRunsHottest) {
  // The long barrel with its baffle out: the gas runs below the plates and rises at the far end, on
  // the left. A bigger fire makes the plates hotter, and that end with them.
  const auto scenario = make_scenario("long-barrel");
  ASSERT_TRUE(scenario);
  auto model = scenario->model;
  const auto& out = model.settings[static_cast<std::size_t>(setting_index(model, "C"))];
  const auto truth = truth_at(model, out);
  const auto hottest = std::ranges::max_element(truth.run_k) - truth.run_k.begin();
  EXPECT_EQ(model.spots[static_cast<std::size_t>(hottest)].name.front(), 'S');
  EXPECT_LT(as_f(truth.tilt_k[0].value()), -5);
  model.fire.high_w *= 1.2;
  EXPECT_LT(truth_at(model, out).tilt_k[0].value(), truth.tilt_k[0].value() - 0.3);
}

TEST(TradeFacts, OneDamperMovesTheFiresSideMoreAndTheWholeChamberAboutAsMuchAsItMovesHeatSideways) {
  // Fire on the left, stack and control sensor on the right. The damper only sends heat to the
  // left; the controller makes up for what its own side lost, and the whole chamber comes up.
  auto model = test_box();
  model.sensor.beside = {0, 1};
  model.settings[0].lean_k = {4, -4};
  model.settings[1].lean_k = {10, -10};
  const auto truth = truth_of(model);
  const auto &before = truth.at("A"), &after = truth.at("B");
  const double fire_k = after.spot_c[0] - before.spot_c[0];
  const double stack_k = after.spot_c[1] - before.spot_c[1];
  const double level_k = after.level_c - before.level_c;
  const double sideways_k = after.run_k[0] - before.run_k[0];
  EXPECT_GT(sideways_k, 4);
  EXPECT_GT(std::abs(fire_k), 3 * std::abs(stack_k));
  EXPECT_NEAR(level_k / sideways_k, 1, 0.25);
}

TEST(TradeFacts, AMinuteWithTheLidOpenIsMadeGoodInMinutes) {
  auto scenario = make_scenario("twin-shelf");
  ASSERT_TRUE(scenario);
  auto model = scenario->model;
  model.disturbance = {.gust_m_s = 0};
  Calm calm(model);
  calm.pit.start_soaked(0);
  calm.run(3600);
  const double before_c = calm.mean_level_c(600);
  calm.pit.inputs().lid = 1;
  calm.run(75);
  const double dip_k = before_c - calm.level_c();
  calm.pit.inputs().lid = 0;
  EXPECT_GT(as_f(dip_k), 25);
  calm.run(600);
  EXPECT_LT(std::abs(as_f(calm.mean_level_c(600) - before_c)), 5);
}

TEST(TradeFacts, WindCoolsThinSteelMoreThanColdDoes) {
  auto model = test_box();
  model.fire.kind = FireKind::steady;
  model.fire.high_w = needed_heat_w(test_box(), model.settings[0]);
  const double calm_c = truth_at(model, model.settings[0]).level_c;
  auto windy = model;
  windy.weather.wind_m_s += 7;
  auto cold = model;
  cold.weather.outside_c -= 10;
  const double by_wind = calm_c - truth_at(windy, windy.settings[0]).level_c;
  const double by_cold = calm_c - truth_at(cold, cold.settings[0]).level_c;
  EXPECT_GT(as_f(by_wind), 20);
  EXPECT_GT(by_wind, by_cold);
}

TEST(TradeFacts, PelletsBurnedAnHourAreHalfAPoundToAPoundAndAHalf) {
  // 8,000-8,500 BTU/lb; 250 degF.
  const auto scenario = make_scenario("hopper-tray");
  ASSERT_TRUE(scenario);
  const double heat_w = truth_of(scenario->model).at("A").heat_w;
  const double pounds_an_hour = heat_w * 3600 / (8250 * 1055.06);
  EXPECT_GT(pounds_an_hour, 0.4);
  EXPECT_LT(pounds_an_hour, 1.5);
}

}  // namespace
}  // namespace pitwright::rehearse
