#include "call/blocks.h"

#include <cmath>

#include <gtest/gtest.h>

#include "call/block_means.h"
#include "call/practice_burn.h"

namespace pitwright::call {
namespace {

std::vector<Block> blocks_of(const PracticeBurn& practice, const Panel& panel) {
  const auto windows = practice.windows();
  return cut_blocks(panel, windows, find_moments(panel, windows), false);
}

TEST(Blocks, HoldWholeSwingsAndLieInTheirWindows) {
  PracticeBurn practice;
  practice.period_s = 100.0;  // two of them are 3 min 20 s
  const auto panel = practice.panel(1);
  const auto windows = practice.windows();
  const auto blocks = blocks_of(practice, panel);
  ASSERT_FALSE(blocks.empty());
  for (const auto& block : blocks) {
    const auto& stint = windows.stints[static_cast<std::size_t>(block.stint)];
    EXPECT_GE(block.first * panel.step_s, *stint.counted_from_s - panel.step_s);
    EXPECT_LE(block.last * panel.step_s, *stint.counted_to_s + panel.step_s);
    if (block.noise == 1.0) {
      EXPECT_EQ((block.last - block.first) * panel.step_s, 200.0);
    }
    EXPECT_EQ(block.setting, stint.setting);
  }
}

TEST(Blocks, AWindowShorterThanASwingIsOneNoisierBlock) {
  PracticeBurn practice;
  practice.period_s = 2400.0;
  const auto panel = practice.panel(1);
  const auto blocks = blocks_of(practice, panel);
  ASSERT_EQ(blocks.size(), 4u);
  for (const auto& block : blocks) EXPECT_GT(block.noise, 1.2);
}

TEST(Blocks, NeverExceedTheirNumberHoweverLongTheBurn) {
  PracticeBurn practice;
  practice.order.assign(40, 0);
  for (std::size_t k = 0; k < practice.order.size(); k += 2) practice.order[k] = 1;
  practice.dwell_s = 3600.0;
  EXPECT_LE(blocks_of(practice, practice.panel(1)).size(), 96u);
}

TEST(Blocks, AdjacentStintsOfOneSettingAreOneStretch) {
  const PracticeBurn practice;  // A B B A
  EXPECT_EQ(stretches(practice.windows()), (std::vector<int>{0, 1, 1, 2}));
}

TEST(Blocks, ABlockMostlyUnderALidIsLeftOut) {
  PracticeBurn practice;
  const auto panel = practice.panel(1);
  auto windows = practice.windows();
  const auto before = cut_blocks(panel, windows, find_moments(panel, windows), false);
  const auto& lost = before[1];
  for (int j = lost.first; j < lost.first + (lost.last - lost.first) / 2; ++j)
    windows.excluded[static_cast<std::size_t>(j)] = 1;
  const auto after = cut_blocks(panel, windows, find_moments(panel, windows), false);
  EXPECT_EQ(after.size() + 1, before.size());
}

TEST(Blocks, ASpotThatIsMissingForLongLeavesTheLevelAndMovesNoOtherSpot) {
  PracticeBurn practice;
  practice.runs_k = {{20.0, 1.0, -1.0, -20.0}, {20.0, 1.0, -1.0, -20.0}};
  auto panel = practice.panel(1);
  for (int j = 240; j < 400; ++j) panel.spots[0].celsius[static_cast<std::size_t>(j)] = NAN;
  const auto windows = practice.windows();
  const auto moments = find_moments(panel, windows);
  EXPECT_EQ(moments.level_spots, (std::vector<int>{1, 2, 3}));
  const auto blocks = cut_blocks(panel, windows, moments, false);
  const auto means = block_means(panel, moments, blocks, {});
  // Spot 2 runs 1 - (-20 / 3) over the three that are left, at every block alike.
  EXPECT_LT(means.runs.col(1).maxCoeff() - means.runs.col(1).minCoeff(), 3.0);
}

TEST(Settling, RowsSumToOneAndFollowTheExponential) {
  PracticeBurn practice;
  practice.settle_s = 0.0;
  const auto panel = practice.panel(1);
  const auto windows = practice.windows();
  const auto blocks = cut_blocks(panel, windows, find_moments(panel, windows), false);
  const auto rows = settling_rows(blocks, panel, windows, {.lag_s = 300.0});
  for (int b = 0; b < rows.rows(); ++b) {
    EXPECT_NEAR(rows.row(b).sum(), 1.0, 1e-12);
    const auto& block = blocks[static_cast<std::size_t>(b)];
    if (block.stint != 1) continue;  // A to B at 2100 s
    double sum = 0.0;                // the slow obvious way: every tenth of a second
    constexpr int fine = 100;
    for (int k = block.first * fine; k < block.last * fine; ++k)
      sum += -std::expm1(-((k + 0.5) * panel.step_s / fine - practice.dwell_s) / 300.0);
    EXPECT_NEAR(rows(b, 1), sum / (fine * (block.last - block.first)), 1e-6);
  }
}

TEST(Settling, ABlockThatEndsJustBehindAChangeHasHardlySeenIt) {
  PracticeBurn practice;
  const auto panel = practice.panel(1);
  auto windows = practice.windows();
  const auto blocks = cut_blocks(panel, windows, find_moments(panel, windows), false);
  windows.stints[1].from_s -= 5.0;  // half a step before the last block of stint 0 ends
  const auto rows = settling_rows(blocks, panel, windows, {.lag_s = 60.0});
  for (int b = 0; b < rows.rows(); ++b) {
    if (blocks[static_cast<std::size_t>(b)].stint == 0) {
      EXPECT_LT(rows(b, 1), 0.01);
    }
  }
}

TEST(Tilts, AreTheLeastSquaresSlopeTimesTheExtent) {
  PracticeBurn practice;
  practice.gust_k = practice.spot_noise_k = practice.resetting_k = 0.0;
  const auto panel = practice.panel(1);
  const auto windows = practice.windows();
  const auto moments = find_moments(panel, windows);
  const auto tilts = tilt_contrasts(panel, moments);
  ASSERT_EQ(tilts.size(), 1u);
  EXPECT_EQ(tilts[0].axis, Axis::left_right);
  EXPECT_NEAR(tilts[0].extent_m, 0.6, 1e-12);
  const auto blocks = cut_blocks(panel, windows, moments, false);
  const auto means = block_means(panel, moments, blocks, tilts);
  // Runs 4 1 -1 -4 at 0, 1, 2, 3 steps of 0.2 m: slope (-1.5 4 - 0.5 - 0.5 - 1.5 4) / 5 a step.
  EXPECT_NEAR(means.tilts(0, 0), -13.0 / 5.0 * 3.0, 1e-9);
}

}  // namespace
}  // namespace pitwright::call
