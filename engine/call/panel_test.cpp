#include "call/panel.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "call/trial_burn.h"
#include "rehearse/scenarios.h"
#include "series/moments.h"

namespace pitwright::call {
namespace {

std::vector<Trouble> with_code(const Panel& panel, TroubleCode code) {
  std::vector<Trouble> out;
  std::ranges::copy_if(panel.troubles, std::back_inserter(out),
                       [code](const Trouble& t) { return t.code == code; });
  return out;
}

TEST(Panel, ACleanBurnHasNoTroubleAndKeepsEveryReading) {
  for (const double rounding : {0.0, 1.0 / 18.0, 0.5, 1.0 / 1.8}) {
    for (std::uint64_t seed = 0; seed < 10; ++seed) {
      const auto burn = TrialBurn{.left_right_change_k = 6.0, .rounding_k = rounding}.burn(seed);
      const auto panel = make_panel(burn);
      EXPECT_TRUE(panel.troubles.empty()) << rounding << ' ' << seed;
      ASSERT_EQ(panel.spots.size(), 6u);
      EXPECT_EQ(panel.step_s, 10.0);
      for (int j = 0; j < panel.n; ++j) {
        EXPECT_EQ(panel.spots[2].celsius[static_cast<std::size_t>(j)],
                  burn.probes[2].readings.values[static_cast<std::size_t>(j)]);
      }
    }
  }
}

TEST(Panel, ACorrectionIsAddedAndAnUncheckedProbeIsUncertainByFourFahrenheit) {
  auto burn = TrialBurn{}.burn(1);
  burn.probes[0].correction = TemperatureDelta::from_kelvins(-1.5);
  burn.probes[1].uncertainty.reset();
  const auto panel = make_panel(burn);
  EXPECT_DOUBLE_EQ(panel.spots[0].celsius[7], burn.probes[0].readings.values[7] - 1.5);
  EXPECT_EQ(panel.spots[0].uncertainty_k, 1.0);
  EXPECT_TRUE(panel.spots[0].checked);
  EXPECT_NEAR(panel.spots[1].uncertainty_k, 4.0 / 1.8, 0.03);
  EXPECT_FALSE(panel.spots[1].checked);
}

TEST(Panel, ASlopedCorrectionHoldsAtTheProbesOwnTemperature) {
  auto burn = TrialBurn{}.burn(1);
  auto& probe = burn.probes[0];
  probe.correction = TemperatureDelta::from_kelvins(50.0);  // the line stands in its place
  probe.line.points = {{0.0, 1.0, 0.2}, {100.0, -1.0, 0.4}};
  const auto panel = make_panel(burn);
  for (const std::size_t i : {7U, 300U, 700U}) {
    const double reading = probe.readings.values[i];
    EXPECT_NEAR(panel.spots[0].celsius[i], reading + 1.0 - 0.02 * reading, 1e-9);
  }
  // About 130 degC: w = 1.3, so sqrt((0.3 x 0.2)^2 + (1.3 x 0.4)^2).
  EXPECT_NEAR(panel.spots[0].uncertainty_k, std::hypot(0.06, 0.52), 0.02);
  EXPECT_TRUE(panel.spots[0].checked);
}

TEST(Panel, AMovedProbeKeepsItsCorrectionAtBothSpots) {
  auto burn = TrialBurn{}.burn(7);
  burn.probes[0].line.points = {{0.0, 1.0, 0.2}, {100.0, 3.0, 0.4}};
  Probe later = burn.probes[0];
  burn.probes[0].readings.seconds.resize(420);
  burn.probes[0].readings.values.resize(420);
  later.readings.seconds.erase(later.readings.seconds.begin(),
                               later.readings.seconds.begin() + 420);
  later.readings.values.erase(later.readings.values.begin(), later.readings.values.begin() + 420);
  later.spot = "elsewhere";
  burn.probes.push_back(later);
  const auto panel = make_panel(burn);
  const auto added = [](double reading) { return 1.0 + 0.02 * reading; };
  const double before = burn.probes[0].readings.values[100], after = later.readings.values[80];
  EXPECT_NEAR(panel.spots[0].celsius[100], before + added(before), 1e-9);
  EXPECT_NEAR(panel.spots[6].celsius[500], after + added(after), 1e-9);
}

TEST(Panel, AnOpenThermocouplesRailAndAStuckProbeAreThrownOut) {
  auto burn = TrialBurn{}.burn(2);
  std::ranges::fill(burn.probes[0].readings.values, 1260.53);
  std::ranges::fill(burn.probes[3].readings.values, 0.0);
  const auto panel = make_panel(burn);
  ASSERT_EQ(panel.spots.size(), 4u);
  EXPECT_EQ(panel.spots.front().spot, "P2");
  const auto dead = with_code(panel, TroubleCode::probe_dead);
  ASSERT_EQ(dead.size(), 2u);
  for (const auto& trouble : dead) EXPECT_TRUE(trouble.where == "P1" || trouble.where == "P4");
}

TEST(Panel, AFrozenRunIsExcludedWhileRepeatsOfACoarseProbeAreNot) {
  auto burn = TrialBurn{.rounding_k = 0.5}.burn(3);
  auto& values = burn.probes[1].readings.values;
  std::fill(values.begin() + 300, values.begin() + 348, values[300]);  // 8 min
  const auto panel = make_panel(burn);
  const auto frozen = with_code(panel, TroubleCode::probe_frozen);
  ASSERT_EQ(frozen.size(), 1u);
  EXPECT_EQ(frozen[0].where, "P2");
  EXPECT_NEAR(frozen[0].at_s.value_or(0.0), 3000.0, 20.0);
  EXPECT_NEAR(frozen[0].amount, 470.0, 20.0);
  EXPECT_TRUE(std::isnan(panel.spots[1].celsius[320]));
  EXPECT_FALSE(std::isnan(panel.spots[1].celsius[355]));
}

TEST(Panel, SentinelsAndBlanksAreMissingNotAveraged) {
  auto burn = TrialBurn{}.burn(4);
  auto& values = burn.probes[4].readings.values;
  std::fill(values.begin() + 200, values.begin() + 240, NAN);
  std::fill(values.begin() + 240, values.begin() + 290, -999.0);
  const auto panel = make_panel(burn);
  const auto missing = with_code(panel, TroubleCode::probe_missing);
  ASSERT_EQ(missing.size(), 1u);
  EXPECT_NEAR(missing[0].amount, 900.0, 20.0);
  for (const double v : panel.spots[4].celsius) EXPECT_TRUE(std::isnan(v) || v > 90.0);
}

TEST(Panel, AStepOfOneProbeAloneIsTold) {
  auto burn = TrialBurn{}.burn(5);
  auto& values = burn.probes[2].readings.values;
  for (std::size_t i = 310; i < values.size(); ++i) values[i] += 9.0;  // 17 min into a stint
  const auto panel = make_panel(burn);
  const auto jumps = with_code(panel, TroubleCode::probe_jump);
  ASSERT_EQ(jumps.size(), 1u);
  EXPECT_EQ(jumps[0].where, "P3");
  EXPECT_NEAR(jumps[0].amount, 9.0, 1.0);
  EXPECT_NEAR(jumps[0].at_s.value_or(0.0), 3100.0, 60.0);
}

TEST(Panel, TwoProbesAtOneSpotAreAveragedAndADropOutLeavesNoStep) {
  auto burn =
      TrialBurn{
          .swing_k = 0.0, .gust_k = 0.0, .noise_k = 0.05, .rounding_k = 0.0, .resetting_k = 0.0}
          .burn(6);
  burn.probes[1].spot = burn.probes[0].spot;  // runs 4 and 3: an offset of 1 K
  auto& values = burn.probes[1].readings.values;
  std::fill(values.begin() + 400, values.end(), NAN);
  const auto panel = make_panel(burn);
  ASSERT_EQ(panel.spots.size(), 5u);
  EXPECT_EQ(panel.spots[0].channel, "P1+P2");
  EXPECT_NEAR(panel.spots[0].uncertainty_k, std::sqrt(2.0) / 2.0, 1e-12);
  const std::span<const double> y = panel.spots[0].celsius;
  EXPECT_NEAR(series::mean(y.first(400)), 128.5, 0.02);
  EXPECT_NEAR(series::mean(y.subspan(400)), 128.5, 0.02);
}

TEST(Panel, AMovedProbeFollowsItselfAtEachSpot) {
  auto burn = TrialBurn{}.burn(7);
  Probe later = burn.probes[0];
  const auto cut = [](Readings& r, std::size_t from, std::size_t to) {
    const auto a = static_cast<std::ptrdiff_t>(from), b = static_cast<std::ptrdiff_t>(to);
    r.seconds = {r.seconds.begin() + a, r.seconds.begin() + b};
    r.values = {r.values.begin() + a, r.values.begin() + b};
  };
  const std::size_t n = later.readings.seconds.size();
  cut(burn.probes[0].readings, 0, 420);
  cut(later.readings, 420, n);
  later.spot = "elsewhere";
  burn.probes.push_back(later);
  const auto panel = make_panel(burn);
  ASSERT_EQ(panel.spots.size(), 7u);
  EXPECT_TRUE(std::isnan(panel.spots[0].celsius[500]));
  EXPECT_TRUE(std::isnan(panel.spots[6].celsius[100]));
  EXPECT_FALSE(std::isnan(panel.spots[6].celsius[500]));
  EXPECT_TRUE(with_code(panel, TroubleCode::probe_missing).empty());
}

TEST(Panel, ASlowLoggerAmongFastOnesLeavesNoHoles) {
  auto burn = TrialBurn{.rounding_k = 0.0}.burn(8);
  Readings slow;
  for (std::size_t i = 0; i < burn.probes[5].readings.seconds.size(); i += 6) {
    slow.seconds.push_back(burn.probes[5].readings.seconds[i] + 3.0);
    slow.values.push_back(std::round(burn.probes[5].readings.values[i] * 2.0) / 2.0);
  }
  burn.probes[5].readings = slow;
  const auto panel = make_panel(burn);
  EXPECT_EQ(panel.step_s, 10.0);
  const auto holes =
      std::ranges::count_if(panel.spots[5].celsius, [](double v) { return std::isnan(v); });
  EXPECT_LE(holes, 6);  // after the last reading nothing is made up
  EXPECT_TRUE(panel.troubles.empty());
}

// The gas tray of the rehearsal: P3 clipped to the rail, P1 frozen for 8 min, P5 away for 17 min.
TEST(Panel, FindsWhatIsWrongWithTheGasTraysProbes) {
  const auto scenario = rehearse::make_scenario("S7");
  ASSERT_TRUE(scenario);
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    const auto made = rehearse::rehearse(*scenario, seed, {.with_truth = false});
    ASSERT_TRUE(made);
    const auto panel = make_panel(made->burn);
    const auto touching = with_code(panel, TroubleCode::probe_touching);
    ASSERT_EQ(touching.size(), 1u) << seed;
    EXPECT_EQ(touching[0].where, "P3");
    ASSERT_EQ(panel.answers.size(), 7u);  // two of the five changed places
    for (const auto& answer : panel.answers) {
      if (answer.channel == "P3") {
        EXPECT_LT(answer.share, 0.6) << seed;
        EXPECT_GT(answer.late_s, 20.0) << seed;
      } else {
        EXPECT_NEAR(answer.share, 1.0, 0.35) << seed << answer.channel;
      }
    }
    const auto frozen = with_code(panel, TroubleCode::probe_frozen);
    ASSERT_EQ(frozen.size(), 1u) << seed;
    EXPECT_EQ(frozen[0].where, "P1");
    EXPECT_NEAR(frozen[0].amount, 480.0, 30.0);
    const auto missing = with_code(panel, TroubleCode::probe_missing);
    ASSERT_EQ(missing.size(), 1u) << seed;
    EXPECT_EQ(missing[0].where, "P5");
    EXPECT_NEAR(missing[0].amount, 1020.0, 30.0);
    EXPECT_EQ(panel.troubles.size(), 3u) << seed;
  }
}

TEST(Panel, ABurnWithoutAnyReadingGivesAnEmptyPanel) {
  Burn burn;
  EXPECT_EQ(make_panel(burn).n, 0);
  burn.probes.resize(1);
  burn.probes[0].channel = "P1";
  EXPECT_EQ(make_panel(burn).n, 0);
  EXPECT_EQ(with_code(make_panel(burn), TroubleCode::probe_dead).size(), 1u);
}

}  // namespace
}  // namespace pitwright::call
