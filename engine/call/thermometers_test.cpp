#include "call/thermometers.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include <gtest/gtest.h>

#include "call/trial_burn.h"
#include "rehearse/scenarios.h"

namespace pitwright::call {
namespace {

/// What a first-order lag makes of a channel.
void slow_down(Readings& readings, double lag_s) {
  double y = readings.values.front();
  for (std::size_t i = 1; i < readings.values.size(); ++i) {
    const double dt = readings.seconds[i] - readings.seconds[i - 1];
    y += (1.0 - std::exp(-dt / lag_s)) * (readings.values[i] - y);
    readings.values[i] = y;
  }
}

// Source: first-order lag, textbook: z = 1 / (1 + i 2 pi T / P).
TEST(Thermometers, AThickSheathsLagIsToldFromTheSwing) {
  TrialBurn plan;
  plan.swing_k = 12.0;
  plan.period_s = 400.0;
  plan.noise_k = 0.05;
  plan.gust_k = 0.0;
  for (const double lag_s : {40.0, 80.0}) {
    auto burn = plan.burn(3);
    slow_down(burn.probes[2].readings, lag_s);
    const auto seen = see_thermometers(burn);
    ASSERT_EQ(seen.probes.size(), 6U);
    ASSERT_TRUE(seen.period_s);
    EXPECT_NEAR(*seen.period_s, 400.0, 12.0);
    // A usual probe is held against a mean of four like it and the slow one.
    const std::complex<double> z =
        1.0 / std::complex<double>(1.0, 2.0 * std::numbers::pi * lag_s / 400.0);
    EXPECT_NEAR(*seen.probes[2].share, std::abs(z) * std::abs(4.0 + z) / 5.0, 0.02) << lag_s;
    EXPECT_NEAR(*seen.probes[2].lag_s, lag_s, 0.08 * lag_s);
    EXPECT_NEAR(*seen.probes[2].late_s, -std::arg(z) * 400.0 / (2.0 * std::numbers::pi), 15.0);
    EXPECT_NEAR(*seen.probes[0].share, 1.0, 0.05);
  }
}

TEST(Thermometers, ToldIsWhatTheCallsChecksFound) {
  const auto scenario = rehearse::make_scenario("S7");
  ASSERT_TRUE(scenario);
  const auto made = rehearse::rehearse(*scenario, 1, {.with_truth = false});
  ASSERT_TRUE(made);
  const auto seen = see_thermometers(made->burn);
  const auto has = [&](TroubleCode code) {
    return std::ranges::any_of(seen.troubles, [code](const Trouble& t) { return t.code == code; });
  };
  EXPECT_TRUE(has(TroubleCode::probe_touching));
  EXPECT_TRUE(has(TroubleCode::probe_frozen));
  EXPECT_TRUE(has(TroubleCode::probe_missing));
  EXPECT_TRUE(has(TroubleCode::probe_offset));
  EXPECT_FALSE(has(TroubleCode::one_probe_decides));
  EXPECT_FALSE(has(TroubleCode::still_warming));
}

TEST(Thermometers, WithoutAStintTheChecksStillSpeak) {
  auto burn = TrialBurn{}.burn(2);
  std::ranges::fill(burn.probes[0].readings.values, 1260.53);
  burn.stints.clear();
  const auto seen = see_thermometers(burn);
  EXPECT_EQ(seen.probes.size(), 6U);
  EXPECT_FALSE(seen.troubles.empty());
}

}  // namespace
}  // namespace pitwright::call
