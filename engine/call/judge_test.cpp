#include "call/judge.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "call/practice_burn.h"

namespace pitwright::call {
namespace {

const Options quick{.as_known_at_s = std::nullopt, .needs_stints = false};

Report judged(const PracticeBurn& practice, std::uint64_t seed, const Options& options = {}) {
  return judge(practice.burn(), practice.panel(seed), practice.windows(), options);
}

bool has_trouble(const Report& report, TroubleCode code) {
  return std::ranges::any_of(report.troubles, [=](const Trouble& t) { return t.code == code; });
}

TEST(Judge, FindsALargeChangeOfTheLayAndNoneOfTheLevel) {
  PracticeBurn practice;
  practice.runs_k = {{12.0, 4.0, -4.0, -12.0}, {-12.0, -4.0, 4.0, 12.0}};
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    const auto report = judged(practice, seed);
    const auto& tilt = report.tilts.at(0).tilt.changes.at(0);
    EXPECT_EQ(tilt.word, Word::clear) << seed;
    EXPECT_NEAR(tilt.estimate->value, 48.0, 3.0) << seed;
    EXPECT_NE(report.level.changes.at(0).word, Word::clear) << seed;
  }
}

TEST(Judge, ARangeHoldsTheTruthInNineteenBurnsOfTwenty) {
  PracticeBurn practice;
  practice.order = {0, 1, 2, 2, 1, 0};
  practice.level_k = {120.0, 123.0, 126.0};
  practice.runs_k = {{4.0, 1.0, -1.0, -4.0}, {2.0, 2.0, -2.0, -2.0}, {1.0, 3.0, -2.0, -2.0}};
  int level_held = 0, runs_held = 0, levels = 0, runs = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const auto report = judged(practice, seed, quick);
    for (const auto& c : report.level.changes) {
      const double truth = practice.level_k[static_cast<std::size_t>(c.to)] -
                           practice.level_k[static_cast<std::size_t>(c.from)];
      level_held += c.estimate->low <= truth && truth <= c.estimate->high ? 1 : 0;
      ++levels;
    }
    for (std::size_t i = 0; i < report.spots.size(); ++i)
      for (const auto& c : report.spots[i].runs.changes) {
        const double truth = practice.runs_k[static_cast<std::size_t>(c.to)][i] -
                             practice.runs_k[static_cast<std::size_t>(c.from)][i];
        runs_held += c.estimate->low <= truth && truth <= c.estimate->high ? 1 : 0;
        ++runs;
      }
  }
  // Three standard errors of a share in 60 independent burns below 95 %.
  const double least = 0.95 - 3.0 * std::sqrt(0.95 * 0.05 / 60.0);
  EXPECT_GE(level_held / static_cast<double>(levels), least);
  EXPECT_GE(runs_held / static_cast<double>(runs), least);
}

TEST(Judge, TheSameBurnGivesTheSameBits) {
  const PracticeBurn practice;
  const auto a = judged(practice, 3), b = judged(practice, 3);
  EXPECT_EQ(a.level.changes[0].estimate->low, b.level.changes[0].estimate->low);
  EXPECT_EQ(a.spread.changes[0].estimate->high, b.spread.changes[0].estimate->high);
  EXPECT_EQ(a.spots[1].runs.changes[0].word_low, b.spots[1].runs.changes[0].word_low);
}

TEST(Judge, AConstantOnAllThermometersMovesNoRunAndNoChange) {
  const PracticeBurn practice;
  auto panel = practice.panel(2);
  const auto plain = judge(practice.burn(), panel, practice.windows());
  for (auto& spot : panel.spots)
    for (auto& t : spot.celsius) t += 37.5;
  const auto raised = judge(practice.burn(), panel, practice.windows());
  EXPECT_NEAR(raised.spots[0].runs.changes[0].estimate->low,
              plain.spots[0].runs.changes[0].estimate->low, 1e-8);
  EXPECT_NEAR(raised.level.changes[0].estimate->high, plain.level.changes[0].estimate->high, 1e-8);
  EXPECT_NEAR(raised.level.by_setting[0].estimate->value,
              plain.level.by_setting[0].estimate->value + 37.5, 1e-8);
}

TEST(Judge, WordRangesAreWiderThanRangesAndOfTheSameCenter) {
  const auto report = judged({}, 4);
  for (const auto& spot : report.spots) {
    const auto& c = spot.runs.changes[0];
    EXPECT_LT(c.word_low, c.estimate->low);
    EXPECT_GT(c.word_high, c.estimate->high);
  }
}

TEST(Judge, OneSettingAloneGivesLevelsAndNoChange) {
  PracticeBurn practice;
  practice.order = {0};
  practice.level_k.resize(1);
  practice.runs_k.resize(1);
  const auto report = judged(practice, 1);
  EXPECT_TRUE(report.level.by_setting.at(0).estimate);
  EXPECT_TRUE(report.level.changes.empty());
}

TEST(Judge, AnOrderWithoutRepeatsIsSaidAndItsErrorBorrowed) {
  PracticeBurn practice;
  practice.order = {0, 1};
  const auto once = judged(practice, 1);
  EXPECT_TRUE(has_trouble(once, TroubleCode::order_confounded));
  EXPECT_TRUE(once.level.changes[0].borrowed);
  EXPECT_NE(once.level.changes[0].word, Word::muddled);
  EXPECT_FALSE(judged({}, 1).level.changes[0].borrowed);
}

TEST(Judge, ProbeUncertaintyWidensWhatASettingHadAndNoChange) {
  const PracticeBurn practice;
  auto panel = practice.panel(5);
  const auto loose = judge(practice.burn(), panel, practice.windows());
  for (auto& spot : panel.spots) spot.uncertainty_k = 0.0;
  const auto exact = judge(practice.burn(), panel, practice.windows());
  const auto width = [](const Estimate& e) { return e.high - e.low; };
  EXPECT_GT(width(*loose.spots[0].runs.by_setting[0].estimate),
            1.5 * width(*exact.spots[0].runs.by_setting[0].estimate));
  EXPECT_EQ(width(*loose.spots[0].runs.changes[0].estimate),
            width(*exact.spots[0].runs.changes[0].estimate));
  // Four probes of +-u: the level has u / 2, a run u sqrt(1 - 1/4).
  EXPECT_NEAR(loose.level.by_setting[0].probe_uncertainty_k, 4.0 / 1.8 / 2.0, 1e-12);
  EXPECT_NEAR(loose.spots[0].runs.by_setting[0].probe_uncertainty_k, 4.0 / 1.8 * std::sqrt(0.75),
              1e-12);
}

TEST(Judge, WhatARollCallSharesCancelsInTheLayAndStaysInTheLevel) {
  const PracticeBurn practice;
  auto panel = practice.panel(5);
  const auto apart = judge(practice.burn(), panel, practice.windows());
  for (auto& spot : panel.spots) spot.shared_k = spot.uncertainty_k;
  const auto shared = judge(practice.burn(), panel, practice.windows());
  EXPECT_NEAR(shared.level.by_setting[0].probe_uncertainty_k, 4.0 / 1.8, 1e-12);
  EXPECT_NEAR(shared.spots[0].runs.by_setting[0].probe_uncertainty_k, 0.0, 1e-12);
  EXPECT_NEAR(shared.spread.by_setting[0].probe_uncertainty_k, 0.0, 1e-12);
  for (auto& spot : panel.spots) spot.shared_k = 0.6 * spot.uncertainty_k;  // own: 0.8 of it
  const auto half = judge(practice.burn(), panel, practice.windows());
  EXPECT_NEAR(half.spots[0].runs.by_setting[0].probe_uncertainty_k,
              0.8 * apart.spots[0].runs.by_setting[0].probe_uncertainty_k, 1e-12);
}

TEST(Judge, ACorrectionCommonToAllMovesTheLevelAndNotTheLay) {
  const PracticeBurn practice;
  auto panel = practice.panel(5);
  const auto before = judge(practice.burn(), panel, practice.windows());
  for (auto& spot : panel.spots)
    for (double& c : spot.celsius) c += 3.0;
  const auto after = judge(practice.burn(), panel, practice.windows());
  EXPECT_NEAR(after.level.by_setting[0].estimate->value,
              before.level.by_setting[0].estimate->value + 3.0, 1e-6);
  EXPECT_NEAR(after.spots[0].runs.by_setting[0].estimate->value,
              before.spots[0].runs.by_setting[0].estimate->value, 1e-6);
  EXPECT_NEAR(after.level.changes[0].estimate->value, before.level.changes[0].estimate->value,
              1e-6);
}

TEST(Judge, WordsWaitForAStintToCloseWhileRangesMove) {
  PracticeBurn practice;
  practice.order = {0, 1, 1, 0, 0};
  const auto panel = practice.panel(6);
  auto windows = practice.windows();
  auto& last = windows.stints.back();
  last.state = StintState::counting;
  last.counted_to_s = last.from_s + 900.0;
  const auto early = judge(practice.burn(), panel, windows);
  last.counted_to_s = last.to_s;
  const auto later = judge(practice.burn(), panel, windows);
  EXPECT_EQ(early.level.changes[0].word_low, later.level.changes[0].word_low);
  EXPECT_EQ(early.level.changes[0].word_high, later.level.changes[0].word_high);
  EXPECT_NE(early.level.changes[0].estimate->low, later.level.changes[0].estimate->low);
}

TEST(Live, SaysWhatToDoNextAndWhen) {
  PracticeBurn practice;
  practice.order = {0, 1};
  const auto panel = practice.panel(1);
  auto windows = practice.windows();
  auto& last = windows.stints.back();
  last.state = StintState::counting;
  last.counted_from_s = last.from_s + 900.0;
  const double now_s = last.from_s + 1500.0;
  last.counted_to_s = now_s;
  const auto report =
      judge(practice.burn(), panel, windows, {.as_known_at_s = now_s, .needs_stints = true});
  ASSERT_TRUE(report.live);
  EXPECT_EQ(report.live->state, StintState::counting);
  EXPECT_NEAR(report.live->counting_s, 600.0, 1e-9);
  EXPECT_NEAR(report.live->needed_s, 1200.0, 1e-9);
  EXPECT_EQ(report.live->change_to, 0);
  EXPECT_NEAR(report.live->change_at_s.value(), now_s + 600.0, 1e-9);
}

TEST(NeedsStints, AnOpenQuestionNeedsFewerStintsTheMoreThereIsToSee) {
  PracticeBurn practice;
  practice.order = {0, 1};
  practice.runs_k = {{4.0, 1.0, -1.0, -4.0}, {4.0, 1.0, -1.0, -4.0}};
  const auto nothing = judged(practice, 2).tilts.at(0).tilt.changes.at(0);
  practice.runs_k[1] = {-16.0, -4.0, 4.0, 16.0};
  const auto much = judged(practice, 2).tilts.at(0).tilt.changes.at(0);
  ASSERT_EQ(nothing.word, Word::not_yet);
  ASSERT_TRUE(nothing.needs_stints);
  EXPECT_GE(*nothing.needs_stints, 1);
  EXPECT_LE(*nothing.needs_stints, 8);
  EXPECT_FALSE(much.word == Word::not_yet && !much.needs_stints);
}

TEST(NeedsStints, AChangeJustAsLargeAsWhatMattersIsProbablyNeverSettled) {
  PracticeBurn practice;
  const double m = practice.burn().matters.kelvins();
  practice.runs_k = {{0.0, 0.0, 0.0, 0.0}, {-m * 0.5, -m / 6.0, m / 6.0, m * 0.5}};
  practice.spot_noise_k = practice.resetting_k = 0.0;
  const auto change = judged(practice, 2).tilts.at(0).tilt.changes.at(0);
  ASSERT_NEAR(change.estimate->value, m, 0.5);
  EXPECT_EQ(change.word, Word::too_close);
  EXPECT_FALSE(change.needs_stints);
}

}  // namespace
}  // namespace pitwright::call
