#include "lay/lay.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include <gtest/gtest.h>

#include "lay/practice_lay.h"

namespace pitwright::lay {
namespace {

const LayOptions coarse{.nodes_x = 9, .nodes_y = 6};

bool has(const Lay& lay, LayNote note) {
  return std::ranges::find(lay.notes, note) != lay.notes.end();
}

TEST(Lay, SameInputGivesTheSameBits) {
  const auto a = make_lay(practice_pit(), practice_runs(), coarse).value();
  const auto b = make_lay(practice_pit(), practice_runs(), coarse).value();
  EXPECT_EQ(a.settings[1].grates[0].value_k, b.settings[1].grates[0].value_k);
  EXPECT_EQ(a.settings[1].grates[1].sd_k, b.settings[1].grates[1].sd_k);
  EXPECT_EQ(a.settings[0].grates[0].within.share.low, b.settings[0].grates[0].within.share.low);
  EXPECT_EQ(a.next_spots[2].place.x_m, b.next_spots[2].place.x_m);
}

TEST(Lay, MirroredPitHasTheMirroredMap) {
  const auto pit = practice_pit();
  const auto lay = make_lay(pit, practice_runs(), coarse).value();
  auto turned = practice_runs();
  for (auto& spot : turned.spots) spot.x_m = *pit.width_m - *spot.x_m;
  const auto mirrored = make_lay(pit, turned, coarse).value();
  for (std::size_t s = 0; s < 2; ++s)
    for (std::size_t g = 0; g < 2; ++g)
      for (std::size_t y = 0; y < 6; ++y)
        for (std::size_t x = 0; x < 9; ++x) {
          const auto& a = lay.settings[s].grates[g];
          const auto& b = mirrored.settings[s].grates[g];
          EXPECT_NEAR(a.value_k[y][x], b.value_k[y][8 - x], 1e-8);
          EXPECT_NEAR(a.sd_k[y][x], b.sd_k[y][8 - x], 1e-8);
        }
}

TEST(Lay, MapGoesThroughTheSpotsWithinTheirErrorsAndIsUnsureFarFromThem) {
  const auto lay = make_lay(practice_pit(), practice_runs(), coarse).value();
  for (const auto& spot : lay.spots) {
    const auto there = at(lay, spot.place);
    for (std::size_t s = 0; s < 2; ++s)
      EXPECT_NEAR(there[s].run_k, spot.by_setting[s]->run_k, 2.5 * spot.by_setting[s]->sd_k);
  }
  const auto beside = at(lay, lay.spots[0].place)[0], far = at(lay, {0.98, 0.48, 0.02})[0];
  EXPECT_LT(beside.sd_k, far.sd_k);
  EXPECT_LT(beside.low_k, beside.run_k);
  EXPECT_NEAR(beside.celsius - beside.run_k, lay.settings[0].level_c.value, 1.0);
}

TEST(Lay, FollowsAKnownFieldAndFindsItsHotEnd) {
  const auto lay = make_lay(practice_pit(), practice_runs(), {}).value();
  const auto& grate = lay.settings[0].grates[0];
  ASSERT_EQ(grate.value_k.size(), 40u);
  ASSERT_EQ(grate.value_k[0].size(), 60u);
  EXPECT_LT(grate.hottest.place.x_m, 0.4);
  EXPECT_GT(grate.coolest.place.x_m, 0.6);
  EXPECT_GT(grate.hottest.chance, 0.3);
  EXPECT_LE(grate.hottest.chance, 1.0);
  for (const auto& row : grate.known)
    for (const double known : row) {
      EXPECT_GE(known, 0.0);
      EXPECT_LE(known, 1.0);
    }
}

TEST(Lay, DifferenceIsSurerThanItsTwoMapsBecauseThermometersCancel) {
  const auto lay = make_lay(practice_pit(), practice_runs(), coarse).value();
  ASSERT_EQ(lay.differences.size(), 1u);
  const auto& difference = lay.differences[0].grates[0];
  const auto& a = lay.settings[0].grates[0];
  const auto& b = lay.settings[1].grates[0];
  for (std::size_t y = 0; y < 6; ++y)
    for (std::size_t x = 0; x < 9; ++x) {
      EXPECT_NEAR(difference.value_k[y][x], b.value_k[y][x] - a.value_k[y][x], 1e-9);
      EXPECT_LT(difference.sd_k[y][x], std::hypot(a.sd_k[y][x], b.sd_k[y][x]));
    }
}

TEST(Lay, BandAndRectangleGrowWithTheBand) {
  auto options = coarse;
  double share = -1.0, area = -1.0;
  for (const double band : {1.0, 3.0, 6.0, 15.0}) {
    options.band_k = band;
    const auto lay = make_lay(practice_pit(), practice_runs(), options).value();
    const auto& grate = lay.settings[0].grates[0];
    EXPECT_GE(grate.within.share.value, share);
    EXPECT_LE(grate.within.share.low, grate.within.share.value);
    EXPECT_GE(grate.within.share.high, grate.within.share.value);
    const double now = grate.usable ? grate.usable->area_share : 0.0;
    EXPECT_GE(now, area);
    EXPECT_GE(grate.usable ? grate.usable->chance : 1.0, options.chance);
    share = grate.within.share.value;
    area = now;
  }
  EXPECT_GT(area, 0.9);
}

TEST(Lay, BandLiesAroundTheSetPointWhereThereIsOne) {
  auto pit = practice_pit();
  const auto level = make_lay(pit, practice_runs(), coarse).value();
  pit.set_point = degC(160);  // 40 K above the chamber: nothing lies within
  const auto set = make_lay(pit, practice_runs(), coarse).value();
  EXPECT_EQ(level.settings[0].grates[0].within.around, Within::Around::level);
  EXPECT_EQ(set.settings[0].grates[0].within.around, Within::Around::set_point);
  EXPECT_LT(set.settings[0].grates[0].within.share.high, 0.01);
  EXPECT_FALSE(set.settings[0].grates[0].usable);
}

TEST(Lay, NextSpotsLieAwayFromThoseMeasuredAndTellLessOneAfterTheOther) {
  const auto lay = make_lay(practice_pit(), practice_runs(), coarse).value();
  ASSERT_EQ(lay.next_spots.size(), 3u);
  for (const auto& next : lay.next_spots) {
    EXPECT_GT(next.variance_fall, 0.0);
    EXPECT_LT(next.variance_fall, 1.0);
  }
  EXPECT_GE(lay.next_spots[0].variance_fall, lay.next_spots[2].variance_fall);
}

TEST(Lay, LeaveOneOutNamesEverySpotAtEverySetting) {
  const auto lay = make_lay(practice_pit(), practice_runs(), coarse).value();
  ASSERT_EQ(lay.leave_one_out.size(), 2 * lay.spots.size());
  for (const auto& out : lay.leave_one_out) {
    EXPECT_GT(out.sd_k, 0.0);
    EXPECT_LT(out.low_k, out.predicted_k);
    EXPECT_GT(out.high_k, out.predicted_k);
  }
}

TEST(Lay, TakesTwoProbesAtOnePlace) {
  auto runs = practice_runs();
  runs.spots[1].x_m = runs.spots[0].x_m;
  runs.spots[1].y_m = runs.spots[0].y_m;
  runs.spots[1].z_m = runs.spots[0].z_m;
  const auto lay = make_lay(practice_pit(), runs, coarse);
  ASSERT_TRUE(lay);
  EXPECT_TRUE(has(*lay, LayNote::shared_place));
  const double low = std::min(runs.spots[0].run_k[0], runs.spots[1].run_k[0]);
  const double high = std::max(runs.spots[0].run_k[0], runs.spots[1].run_k[0]);
  const double there = at(*lay, lay->spots[0].place)[0].run_k;
  EXPECT_GT(there, low - 1.0);
  EXPECT_LT(there, high + 1.0);
}

TEST(Lay, SaysThatProbesOnALineKnowLittleAcrossIt) {
  auto runs = practice_runs();
  for (auto& spot : runs.spots) {
    spot.y_m = 0.25;
    spot.z_m = 0.15;
  }
  const auto lay = make_lay(practice_pit(), runs, coarse).value();
  EXPECT_TRUE(has(lay, LayNote::on_a_line));
  EXPECT_GT(at(lay, {0.5, 0.48, 0.15})[0].sd_k, 1.3 * at(lay, {0.5, 0.25, 0.15})[0].sd_k);
}

TEST(Lay, RefusesOneSpotOnePlaceAndNoPositionInWords) {
  auto one = practice_runs();
  for (std::size_t i = 1; i < one.spots.size(); ++i) one.spots[i].x_m = {};
  const auto alone = make_lay(practice_pit(), one, coarse);
  ASSERT_FALSE(alone);
  EXPECT_NE(alone.error().what.find("two places"), std::string::npos);

  auto same = practice_runs();
  for (auto& spot : same.spots) {
    spot.x_m = spot.y_m = 0.2;
    spot.z_m = 0.15;
  }
  const auto heap = make_lay(practice_pit(), same, coarse);
  ASSERT_FALSE(heap);
  EXPECT_NE(heap.error().what.find("one place"), std::string::npos);

  auto none = practice_runs();
  for (auto& spot : none.spots) spot.x_m = spot.y_m = {};
  const auto blind = make_lay(practice_pit(), none, coarse);
  ASSERT_FALSE(blind);
  EXPECT_NE(blind.error().what.find("no air probe has a position"), std::string::npos);
}

TEST(Lay, LeavesASpotWithoutAPositionInTheLevelAndOffTheMap) {
  auto runs = practice_runs();
  runs.spots[2].x_m = {};
  const auto lay = make_lay(practice_pit(), runs, coarse).value();
  const auto whole = make_lay(practice_pit(), practice_runs(), coarse).value();
  EXPECT_EQ(lay.unplaced, std::vector<std::string>{runs.spots[2].spot});
  EXPECT_TRUE(has(lay, LayNote::no_position));
  EXPECT_EQ(lay.spots.size() + 1, whole.spots.size());
  // Its run still holds the level in its place.
  for (const std::size_t i : {0u, 4u, 6u}) {
    const auto& place = whole.spots[i].place;
    EXPECT_NEAR(at(lay, place)[0].run_k, at(whole, place)[0].run_k, 1.0);
  }
}

TEST(Lay, WorksWithoutTheSizeOfThePitAndWithoutHeights) {
  auto runs = practice_runs();
  for (auto& spot : runs.spots) {
    spot.z_m = {};
    spot.grate.clear();
  }
  const auto lay = make_lay({}, runs, coarse).value();
  EXPECT_TRUE(has(lay, LayNote::no_size));
  EXPECT_TRUE(has(lay, LayNote::height_assumed));
  ASSERT_EQ(lay.settings[0].grates.size(), 1u);
  for (const auto& spot : lay.spots) {
    EXPECT_GT(spot.place.x_m, lay.settings[0].grates[0].x0_m);
    EXPECT_LT(spot.place.x_m, lay.settings[0].grates[0].x0_m + lay.settings[0].grates[0].width_m);
  }
}

TEST(Lay, LeavesOutASettingThatWasNeverCounted) {
  auto runs = practice_runs();
  const double missing = std::numeric_limits<double>::quiet_NaN();
  runs.level_c[1] = missing;
  for (auto& spot : runs.spots) spot.run_k[1] = missing;
  const auto lay = make_lay(practice_pit(), runs, coarse).value();
  EXPECT_EQ(lay.uncounted, std::vector<std::string>{"B"});
  ASSERT_EQ(lay.settings.size(), 1u);
  EXPECT_TRUE(lay.differences.empty());
}

TEST(Lay, MeanOverAPatchIsSurerThanItsMiddle) {
  const auto lay = make_lay(practice_pit(), practice_runs(), coarse).value();
  const auto patch = over(lay, {0.3, 0.7, 0.1, 0.4, 0.15})[0];
  EXPECT_LT(patch.sd_k, at(lay, {0.5, 0.25, 0.15})[0].sd_k);
  EXPECT_NEAR(patch.run_k, at(lay, {0.5, 0.25, 0.15})[0].run_k, 2.0);
}

}  // namespace
}  // namespace pitwright::lay
