#include "call/windows.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>

#include <gtest/gtest.h>

#include "call/trial_burn.h"
#include "rehearse/scenarios.h"
#include "series/robust.h"

namespace pitwright::call {
namespace {

constexpr double all = 1e9;

Windows windows_of(const Burn& burn, double as_known_at_s = all) {
  return find_windows(burn, make_panel(burn), as_known_at_s);
}

int count(const Windows& windows, TroubleCode code) {
  return static_cast<int>(
      std::ranges::count_if(windows.troubles, [code](const Trouble& t) { return t.code == code; }));
}

TEST(Windows, ASoakedBurnCountsEveryStintAfterSettlingAndCarriesOnAtTheSameSetting) {
  for (std::uint64_t seed = 0; seed < 10; ++seed) {
    const auto burn = TrialBurn{.left_right_change_k = 10.0}.burn(seed);
    const auto w = windows_of(burn);
    ASSERT_EQ(w.stints.size(), 4u);
    EXPECT_EQ(w.settings, (std::vector<std::string>{"A", "B"}));
    EXPECT_EQ(w.soaked_at_s.value_or(-1.0), 0.0) << seed;
    EXPECT_TRUE(w.troubles.empty()) << seed;
    for (const auto& stint : w.stints) {
      EXPECT_EQ(stint.state, StintState::closed);
      ASSERT_TRUE(stint.counted_from_s);
      EXPECT_EQ(*stint.counted_to_s, stint.to_s);
      EXPECT_LE(*stint.counted_from_s - stint.from_s, 0.6 * 2100.0 + 1e-9);
    }
    EXPECT_EQ(*w.stints[2].counted_from_s, w.stints[2].from_s);
    EXPECT_GE(*w.stints[1].counted_from_s - w.stints[1].from_s,
              std::min(0.6 * 2100.0, 2.0 * w.lag_s) - 1e-9);
  }
}

TEST(Windows, TheSwingIsFoundForTheBurnAndEachChannel) {
  const auto w = windows_of(TrialBurn{}.burn(1));
  ASSERT_TRUE(w.swing.period_s);
  EXPECT_NEAR(*w.swing.period_s, 300.0, 6.0);
  EXPECT_NEAR(w.swing.size_k, 5.0, 0.8);
  ASSERT_EQ(w.swings.size(), 6u);
  for (const auto& s : w.swings) EXPECT_NEAR(s.swing.period_s.value_or(0.0), 300.0, 15.0);
  EXPECT_FALSE(windows_of(TrialBurn{.swing_k = 10.0, .period_s = 0.0}.burn(2)).swing.period_s);
}

TEST(Windows, TheLagIsFoundFromTheChangesOfTheLay) {
  for (const double lag_s : {120.0, 420.0}) {
    std::vector<double> found;
    for (std::uint64_t seed = 0; seed < 12; ++seed) {
      const auto w = windows_of(TrialBurn{.left_right_change_k = 10.0, .lag_s = lag_s}.burn(seed));
      EXPECT_FALSE(w.lag_borrowed);
      EXPECT_LT(w.lag_low_s, w.lag_s);
      EXPECT_GT(w.lag_high_s, w.lag_s);
      found.push_back(w.lag_s);
    }
    EXPECT_NEAR(series::median(found), lag_s, 0.1 * lag_s);
  }
}

TEST(Windows, TheLagIsFoundFromALevelThatMovesAlone) {
  std::vector<double> found;
  for (std::uint64_t seed = 0; seed < 12; ++seed) {
    found.push_back(
        windows_of(TrialBurn{.dwell_s = 3600.0, .level_change_k = 15.0}.burn(seed)).lag_s);
  }
  EXPECT_NEAR(series::median(found), 420.0, 0.25 * 420.0);  // one series with swing, three changes
}

// Source: data/tclab_step_tests (a heater of known steps: 0 to 100 at 63 s, to 255 at 168 s, to 50
// at 505 s) and data/reference/step_lags/expected.csv: SciPy's least squares gives a lag of 175.6 s
// with no dead time and 147.4 s beside 12.5 s of it. Ours allows each step a lag only, a height of
// its own before the step and red noise, so it belongs between the two, give or take a quarter.
TEST(Windows, TheLagOfAHeatersKnownStepsIsTheOneThatLeastSquaresFinds) {
  std::ifstream file(PITWRIGHT_SOURCE_DIR "/data/tclab_step_tests/siso_voltage_degF_1s.csv");
  Burn burn;
  burn.probes.resize(1);
  burn.probes[0].channel = burn.probes[0].spot = "heater";
  std::string line;
  while (std::getline(file, line)) {
    std::ranges::replace(line, ',', ' ');
    std::istringstream cells(line);
    double t = 0.0, drive = 0.0, fahrenheit = 0.0;
    if (!(cells >> t >> drive >> fahrenheit)) continue;
    burn.probes[0].readings.seconds.push_back(t);
    burn.probes[0].readings.values.push_back((fahrenheit - 32.0) / 1.8);
  }
  ASSERT_GT(burn.probes[0].readings.seconds.size(), 800u);
  burn.stints = {{"0", {}, 0.0, 63.0},
                 {"100", {}, 63.0, 168.0},
                 {"255", {}, 168.0, 505.0},
                 {"50", {}, 505.0, 851.0}};
  const auto w = windows_of(burn);
  EXPECT_FALSE(w.lag_borrowed);
  EXPECT_GT(w.lag_s, 147.4 * 0.75);
  EXPECT_LT(w.lag_s, 175.6 * 1.25);
}

TEST(Windows, WithoutChangesTheLagIsBorrowedAndSaidSo) {
  const auto w = windows_of(TrialBurn{.order = {"A", "A"}}.burn(3));
  EXPECT_TRUE(w.lag_borrowed);
  EXPECT_EQ(w.lag_s, 360.0);
  EXPECT_EQ(w.lag_low_s, 180.0);
  EXPECT_EQ(w.lag_high_s, 720.0);
}

TEST(Windows, ASoakedSteadyPitWithDriftIsSoakedFromTheStart) {
  int late = 0;
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    const double drift_k_h = std::vector{0.0, 1.7, 3.3, -3.3}[seed % 4];  // 0, 3, 6, -6 degF/h
    const auto w = windows_of(TrialBurn{.level_change_k = seed % 2 == 0 ? 0.0 : 4.0,
                                        .swing_k = 10.0,
                                        .gust_k = 1.2,
                                        .drift_k_h = drift_k_h}
                                  .burn(seed));
    late += count(w, TroubleCode::still_warming) > 0 || !w.soaked_at_s ? 1 : 0;
  }
  EXPECT_LE(late, 2);
}

TEST(Windows, ABrickRoomStartedTooEarlyIsToldWhenItWasSoaked) {
  // Scenario: 35 degF short at the start, time constant 45 min, stints of 40 min: the rest within a
  // stint passes under a quarter of 10 degF at 95 min; proven at 90 % a little later. The scenario
  // asks for 105 to 120 min.
  std::vector<double> found;
  int unproven = 0;
  for (std::uint64_t seed = 0; seed < 30; ++seed) {
    const auto w = windows_of(TrialBurn{.dwell_s = 2400.0,
                                        .swing_k = 3.0,
                                        .period_s = 480.0,
                                        .gust_k = 0.4,
                                        .short_k = 35.0 / 1.8,
                                        .resetting_k = 0.3}
                                  .burn(seed));
    EXPECT_GE(count(w, TroubleCode::still_warming), 2) << seed;
    unproven += w.soaked_at_s ? 0 : 1;
    if (w.soaked_at_s) found.push_back(*w.soaked_at_s / 60.0);
    EXPECT_EQ(count(w, TroubleCode::soak_unknown), w.soaked_at_s ? 0 : 1) << seed;
  }
  EXPECT_LE(unproven, 4);
  EXPECT_GE(series::median(found), 100.0);
  EXPECT_LE(series::median(found), 125.0);
}

TEST(Windows, AColdStartWaitsAtLeastTwentyMinutesAfterReachingHeat) {
  auto burn = TrialBurn{.lead_s = 5400.0}.burn(4);
  for (auto& probe : burn.probes) {
    for (std::size_t i = 0; i < probe.readings.values.size(); ++i) {
      probe.readings.values[i] -= 105.0 * std::exp(-probe.readings.seconds[i] / 480.0);
    }
  }
  const auto w = windows_of(burn);
  ASSERT_TRUE(w.soaked_at_s);
  // 105 K gone to within 15 K at 480 s x ln 7 = 16 min.
  EXPECT_GE(*w.soaked_at_s, 900.0 + 1200.0);
  EXPECT_LE(*w.soaked_at_s, 5400.0);
  EXPECT_EQ(count(w, TroubleCode::still_warming), 0);
}

TEST(Windows, AMarkedLidIsExcludedWithItsRecoveryAndTheStintGoesOn) {
  auto burn = TrialBurn{}.burn(5);
  const double open_s = 3300.0, shut_s = 3375.0;
  for (auto& probe : burn.probes) {
    for (std::size_t i = 0; i < probe.readings.values.size(); ++i) {
      const double t = probe.readings.seconds[i];
      if (t < open_s) continue;
      const double depth = 30.0 * std::min(1.0, (t - open_s) / (shut_s - open_s));
      probe.readings.values[i] -= depth * (t > shut_s ? std::exp(-(t - shut_s) / 60.0) : 1.0);
    }
  }
  auto marked = burn;
  marked.events.push_back({EventKind::lid, open_s, shut_s, "", "", ""});
  for (const auto& b : {marked, burn}) {
    const auto w = windows_of(b);
    const bool is_marked = !b.events.empty();
    ASSERT_EQ(w.troubles.size(), 1u);
    EXPECT_EQ(w.troubles[0].code, is_marked ? TroubleCode::lid_marked : TroubleCode::lid_unmarked);
    EXPECT_NEAR(w.troubles[0].at_s.value_or(0.0), open_s, 30.0);
    // 30 K with 60 s: a tenth of 10 degF (0.56 K) remains 4 min after shutting.
    EXPECT_NEAR(w.stints[1].excluded_s, 75.0 + 240.0, 120.0);
    EXPECT_EQ(w.stints[1].state, StintState::closed);
    EXPECT_EQ(w.excluded[335], 1);
    EXPECT_EQ(w.excluded[300], 0);
    EXPECT_EQ(w.excluded[420], 0);
  }
}

TEST(Windows, SwingsSplitsAndSettingChangesAreNoLids) {
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    for (const auto& plan : {TrialBurn{.level_change_k = 15.0, .swing_k = 14.0, .period_s = 240.0},
                             TrialBurn{.dwell_s = 2400.0, .swing_k = 20.0, .period_s = 0.0}}) {
      EXPECT_EQ(count(windows_of(plan.burn(seed)), TroubleCode::lid_unmarked), 0) << seed;
    }
  }
}

// The twin shelf of the rehearsal: 75 s open at minute 22 of the third stint, 3 min at minute 8 of
// the fifth; nobody marked them. Asked of the scenario: within 30 s.
TEST(Windows, SuggestsTheTwinShelfsUnmarkedLids) {
  const auto scenario = rehearse::make_scenario("S9");
  ASSERT_TRUE(scenario);
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    const auto made = rehearse::rehearse(*scenario, seed, {.with_truth = false});
    ASSERT_TRUE(made);
    const auto w = windows_of(made->burn);
    std::vector<double> at;
    for (const auto& t : w.troubles) {
      if (t.code == TroubleCode::lid_unmarked) at.push_back(t.at_s.value_or(0.0));
    }
    ASSERT_EQ(at.size(), 2u) << seed;
    EXPECT_NEAR(at[0], 2.0 * 2400.0 + 22 * 60.0, 30.0);
    EXPECT_NEAR(at[1], 4.0 * 2400.0 + 8 * 60.0, 30.0);
  }
}

TEST(Windows, NothingLaterThanTheKnownMomentIsUsed) {
  const auto whole = TrialBurn{.left_right_change_k = 8.0}.burn(6);
  const double now_s = 5000.0;  // 800 s into the third stint
  const auto a = find_windows(whole, make_panel(whole), now_s);
  auto panel = make_panel(whole);
  for (auto& spot : panel.spots) {
    for (std::size_t j = 500; j < spot.celsius.size(); ++j) spot.celsius[j] = 300.0;
  }
  const auto b = find_windows(whole, panel, now_s);
  EXPECT_EQ(a.lag_s, b.lag_s);
  EXPECT_EQ(a.soaked_at_s, b.soaked_at_s);
  EXPECT_EQ(a.swing.period_s, b.swing.period_s);
  ASSERT_EQ(a.stints.size(), 4u);
  EXPECT_EQ(a.stints[1].state, StintState::closed);
  EXPECT_EQ(a.stints[2].state, StintState::counting);
  EXPECT_EQ(a.stints[2].counted_to_s.value_or(0.0), now_s);
  EXPECT_FALSE(a.stints[3].counted_from_s);
  for (std::size_t k = 0; k < 4; ++k) {
    EXPECT_EQ(a.stints[k].counted_from_s, b.stints[k].counted_from_s);
    EXPECT_EQ(a.stints[k].state, b.stints[k].state);
  }
}

TEST(Windows, ARunningStintSettlesThenCountsAndPausesForTheLid) {
  auto burn = TrialBurn{.left_right_change_k = 8.0}.burn(7);
  burn.events.push_back({EventKind::lid, 3600.0, {}, "", "", ""});
  const auto panel = make_panel(burn);
  EXPECT_EQ(find_windows(burn, panel, 2400.0).stints[1].state, StintState::settling);
  EXPECT_EQ(find_windows(burn, panel, 3590.0).stints[1].state, StintState::counting);
  EXPECT_EQ(find_windows(burn, panel, 3640.0).stints[1].state, StintState::paused);
}

Burn house_fire() {
  const std::string folder = PITWRIGHT_SOURCE_DIR "/data/fsri_residential_gasburner_2016/derived/";
  std::ifstream file(folder + "Gas_Burner_1_temps_5s.csv");
  Burn burn;
  std::string line, cell;
  std::getline(file, line);
  std::istringstream header(line);
  std::getline(header, cell, ',');
  while (std::getline(header, cell, ',')) {
    burn.probes.emplace_back();
    burn.probes.back().channel = burn.probes.back().spot = cell;
  }
  while (std::getline(file, line)) {
    std::istringstream cells(line);
    std::getline(cells, cell, ',');
    const double t = std::stod(cell);
    for (auto& probe : burn.probes) {
      if (!std::getline(cells, cell, ',') || cell.empty()) continue;
      probe.readings.seconds.push_back(t);
      probe.readings.values.push_back(std::stod(cell));
    }
  }
  burn.stints = {
      {"shut", {}, 0.0, 301.0}, {"door", {}, 301.0, 601.0}, {"window", {}, 601.0, 901.0}};
  return burn;
}

// Source: data/fsri_residential_gasburner_2016/PROVENANCE.md: burner lit at 0, front door opened at
// 301 s, window at 601 s, burner off at 901 s; "Kitchen Temperature 0.02 m Below Ceiling" is
// constant 1260.53; still warming at the first event.
TEST(Windows, AHouseFireOfFifteenMinutesIsStillWarmingAndItsDeadChannelIsOut) {
  const auto burn = house_fire();
  ASSERT_EQ(burn.probes.size(), 64u);
  const auto panel = make_panel(burn);
  EXPECT_EQ(panel.step_s, 5.0);
  EXPECT_EQ(panel.spots.size(), 63u);
  const auto dead = std::ranges::find(panel.troubles, TroubleCode::probe_dead, &Trouble::code);
  ASSERT_NE(dead, panel.troubles.end());
  EXPECT_EQ(dead->where, "Kitchen Temperature 0.02 m Below Ceiling");
  const auto w = find_windows(burn, panel, 1500.0);
  EXPECT_FALSE(w.soaked_at_s && *w.soaked_at_s < 901.0);
  EXPECT_EQ(count(w, TroubleCode::still_warming), 3);
  for (const auto& stint : w.stints) {
    ASSERT_TRUE(stint.counted_from_s);
    EXPECT_GE(*stint.counted_from_s - stint.from_s, 0.7 * 300.0);  // only its end counts
    EXPECT_EQ(stint.state, StintState::closed);
  }
  EXPECT_LT(w.lag_s, 200.0);
  EXPECT_EQ(count(w, TroubleCode::lid_unmarked), 0);
}

TEST(Windows, ABurnWithoutReadingsOrStintsDoesNotFail) {
  Burn burn;
  EXPECT_TRUE(windows_of(burn).stints.empty());
  burn.stints = {{"A", {}, 0.0, 600.0}, {"B", {}, 600.0, 1200.0}};
  EXPECT_EQ(windows_of(burn).stints.size(), 2u);
  auto short_burn = TrialBurn{.order = {"A"}, .dwell_s = 30.0}.burn(1);
  EXPECT_EQ(windows_of(short_burn).stints.size(), 1u);
  short_burn.stints.clear();
  EXPECT_TRUE(windows_of(short_burn).stints.empty());
  short_burn.stints = {{"A", {}, 5000.0, 6000.0}};
  EXPECT_EQ(windows_of(short_burn).stints.size(), 1u);
}

}  // namespace
}  // namespace pitwright::call
