#include "call/trust.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "call/judge.h"
#include "call/practice_burn.h"

namespace pitwright::call {
namespace {

const Options quick{.as_known_at_s = std::nullopt, .needs_stints = false};

bool has_trouble(const Report& report, TroubleCode code) {
  return std::ranges::any_of(report.troubles, [=](const Trouble& t) { return t.code == code; });
}

/// The panel with a front: outside air from 20 to 10.5 degC (17 degF) at a moment.
Panel with_front(const PracticeBurn& practice, double at_s) {
  auto panel = practice.panel(1);
  for (int j = 0; j < panel.n; ++j)
    panel.outside.push_back((j + 0.5) * panel.step_s < at_s ? 20.0 : 10.5);
  return panel;
}

// Scenario: a front passes; three settings in a row are confounded with it, an order that turns
// back in the middle is not, nor one that is cut at a third.
TEST(Trust, WeatherThatWentWithTheSettingsMuddlesAndWeatherAcrossThemDoesNot) {
  PracticeBurn practice;
  practice.order = {0, 1, 2};
  practice.level_k.assign(3, 120.0);
  practice.runs_k.assign(3, practice.runs_k[0]);
  const auto once = judge(practice.burn(), with_front(practice, 3600.0), practice.windows());
  const auto& a_to_c = once.level.changes.at(1);
  EXPECT_EQ(a_to_c.word, Word::muddled);
  ASSERT_EQ(a_to_c.because.size(), 1u);
  const auto& trouble = once.troubles.at(static_cast<std::size_t>(a_to_c.because[0]));
  EXPECT_EQ(trouble.code, TroubleCode::weather_changed);
  EXPECT_NEAR(trouble.amount, -9.5, 0.5);
  EXPECT_TRUE(a_to_c.estimate);  // value and range stay

  practice.order = {0, 1, 2, 2, 1, 0};
  for (const double at_s : {6300.0, 4200.0}) {
    const auto turned = judge(practice.burn(), with_front(practice, at_s), practice.windows());
    EXPECT_FALSE(has_trouble(turned, TroubleCode::weather_changed)) << at_s;
  }
}

TEST(Trust, AStintThatWasStillWarmingMuddlesItsSettings) {
  PracticeBurn practice;
  practice.order = {0, 1, 2};
  practice.level_k.assign(3, 120.0);
  practice.runs_k.assign(3, practice.runs_k[0]);
  auto windows = practice.windows();
  windows.troubles.push_back({TroubleKind::soak, TroubleCode::still_warming, "A", 0.0, 6.0, 0});
  const auto report = judge(practice.burn(), practice.panel(1), windows);
  EXPECT_EQ(report.level.changes[0].word, Word::muddled);  // A to B
  EXPECT_EQ(report.level.changes[1].word, Word::muddled);  // A to C
  EXPECT_NE(report.level.changes[2].word, Word::muddled);  // B to C
}

TEST(Trust, AProbeThatTouchesMetalLeavesTheLevelAndOnlyItsOwnRunsAreMuddled) {
  const PracticeBurn practice;
  auto panel = practice.panel(1);
  panel.troubles.push_back(
      {TroubleKind::probe, TroubleCode::probe_touching, "T2", std::nullopt, 0.35});
  const auto report = judge(practice.burn(), panel, practice.windows());
  EXPECT_EQ(report.spots[1].runs.changes[0].word, Word::muddled);
  EXPECT_NE(report.spots[0].runs.changes[0].word, Word::muddled);
  EXPECT_NE(report.level.changes[0].word, Word::muddled);
}

TEST(Trust, ASettingWhoseOnlyStintWasSpoiledIsMuddledWithoutAValue) {
  PracticeBurn practice;
  practice.order = {0, 1, 0};
  auto windows = practice.windows();
  windows.stints[1].state = StintState::spoiled;
  windows.stints[1].counted_from_s = windows.stints[1].counted_to_s = std::nullopt;
  const auto report = judge(practice.burn(), practice.panel(1), windows);
  const auto& change = report.level.changes[0];
  EXPECT_EQ(change.word, Word::muddled);
  EXPECT_FALSE(change.estimate);
  ASSERT_FALSE(change.because.empty());
}

/// Adds a step of the level to one stint.
Panel with_odd_stint(const PracticeBurn& practice, int stint, double step_k) {
  auto panel = practice.panel(2);
  for (int j = 0; j < panel.n; ++j) {
    if (static_cast<int>((j + 0.5) * panel.step_s / practice.dwell_s) != stint) continue;
    for (auto& spot : panel.spots) spot.celsius[static_cast<std::size_t>(j)] += step_k;
  }
  return panel;
}

TEST(Trust, OneStintFarFromItsLikeDecidesTheLevelAndIsNamed) {
  PracticeBurn practice;
  practice.order = {0, 1, 0, 1, 0, 1, 0, 1, 0, 1};
  practice.level_k = {120.0, 136.0};
  practice.resetting_k = 0.2;
  practice.drift_k = 0.2;
  const auto plain = judge(practice.burn(), practice.panel(2), practice.windows());
  ASSERT_EQ(plain.level.changes[0].word, Word::clear);
  const auto odd = judge(practice.burn(), with_odd_stint(practice, 3, -60.0), practice.windows());
  EXPECT_EQ(odd.level.changes[0].word, Word::muddled);
  ASSERT_TRUE(has_trouble(odd, TroubleCode::one_stint_decides));
}

TEST(Trust, WithoutPlantedTroubleWithRepeatsHardlyAnyBurnIsMuddled) {
  int muddled = 0;
  constexpr int burns = 60;
  for (std::uint64_t seed = 1; seed <= burns; ++seed) {
    PracticeBurn practice;
    practice.resetting_k = 0.8;
    practice.runs_k[1] = {-4.0, 8.0, 1.0, -5.0};
    const auto report = judge(practice.burn(), practice.panel(seed), practice.windows(), quick);
    bool any = false;
    for (const auto& spot : report.spots) any = any || spot.runs.changes[0].word == Word::muddled;
    any = any || report.level.changes[0].word == Word::muddled ||
          report.spread.changes[0].word == Word::muddled ||
          report.tilts[0].tilt.changes[0].word == Word::muddled;
    muddled += any ? 1 : 0;
  }
  EXPECT_LE(muddled, burns / 20);
}

}  // namespace
}  // namespace pitwright::call
