#include "call/recovery.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "call/judge.h"
#include "call/practice_burn.h"
#include "call/tables.h"
#include "call/trial_burn.h"

namespace pitwright::call {
namespace {

constexpr double open_s = 3300.0, shut_s = 3375.0;
constexpr double depth_k = 30.0, tau_s = 60.0, pans_k = 5.0, pans_tau_s = 3600.0;

/// Two stints of A, then of B; a lid in the second, after which `slow` spots (from the first on)
/// stay short. Matters is 10 degF, so back is within 3 degF = 1.67 K.
Burn lid_burn(std::size_t slow, std::uint64_t seed) {
  auto burn = TrialBurn{.order = {"A", "A", "B", "A"}, .swing_k = 3.0}.burn(seed);
  burn.events.push_back({EventKind::lid, open_s, shut_s, "", "", ""});
  for (std::size_t i = 0; i < burn.probes.size(); ++i) {
    auto& readings = burn.probes[i].readings;
    for (std::size_t j = 0; j < readings.values.size(); ++j) {
      const double t = readings.seconds[j];
      if (t < open_s || t >= 2 * 2100.0) continue;
      readings.values[j] -= depth_k * (t < shut_s ? (t - open_s) / (shut_s - open_s)
                                                  : std::exp(-(t - shut_s) / tau_s));
      if (i < slow && t > shut_s)
        readings.values[j] -= pans_k * std::exp(-(t - shut_s) / pans_tau_s);
    }
  }
  return burn;
}

TEST(Recovery, EverySpotIsBackWhenItsFallHasShrunkToThreeTenthsOfMatters) {
  const double truth_s = tau_s * std::log(depth_k / (3.0 / 1.8));  // 173 s
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    const auto burn = lid_burn(0, seed);
    const auto panel = make_panel(burn);
    const auto w = find_windows(burn, panel, 1e9);
    ASSERT_EQ(w.lids.size(), 1u);
    ASSERT_EQ(w.lids[0].spots.size(), 6u);
    for (const auto& spot : w.lids[0].spots) {
      EXPECT_NEAR(spot.back_s.value_or(1e9), truth_s, 60.0) << seed;
      EXPECT_FALSE(spot.is_slow) << seed;
    }
  }
}

TEST(Recovery, SpotsThatStayShortAreSlowAndToldByName) {
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    const auto burn = lid_burn(2, seed);
    const auto w = find_windows(burn, make_panel(burn), 1e9);
    ASSERT_EQ(w.lids.size(), 1u);
    EXPECT_EQ(slow_spots(w.lids[0]), (std::vector<int>{0, 1})) << seed;
    EXPECT_FALSE(w.lids[0].spots[0].back_s) << seed;  // 4 K still short when the stint ends
    EXPECT_NEAR(w.lids[0].spots[0].short_k, 4.3, 0.8) << seed;
    const auto told = std::ranges::find(w.troubles, TroubleCode::lid_one_sided, &Trouble::code);
    ASSERT_NE(told, w.troubles.end());
    EXPECT_EQ(told->where, "P1, P2");
    EXPECT_EQ(told->stint, 1);
  }
}

TEST(Recovery, NothingIsSaidWhereTooLittleCountsBeforeTheLid) {
  auto burn = lid_burn(2, 1);
  burn.stints = {{"B", {}, 0.0, open_s - 60.0}, {"A", {}, open_s - 60.0, 8400.0}};
  const auto w = find_windows(burn, make_panel(burn), 1e9);
  ASSERT_EQ(w.lids.size(), 1u);
  EXPECT_TRUE(w.lids[0].spots.empty());
}

/// A practice burn in which the first spot was slow from `from_s` on, for good.
Windows slow_from(const PracticeBurn& plan, double from_s, double to_s) {
  auto w = plan.windows();
  w.lid_goal_k = 0.1 * 10.0 / 1.8;
  w.lids = {{from_s,
             from_s + 60.0,
             from_s + 300.0,
             to_s,
             20.0,
             true,
             0,
             1.7,
             {{0, std::nullopt, 4.0, true}}}};
  w.troubles = {{TroubleKind::lid, TroubleCode::lid_one_sided, "spot 1", from_s, 4.0, 0}};
  return w;
}

TEST(OneSidedLid, LeavesItOutOfWhatItWeighsInAndKeepsTheRest) {
  const PracticeBurn plan;
  const auto panel = plan.panel(1);
  const auto w = slow_from(plan, 3 * plan.dwell_s, 4 * plan.dwell_s);  // the last stint, A
  const auto moments = find_moments(panel, w);
  const auto t = make_tables(panel, w, moments, false);
  const auto all = t.blocks.size();
  EXPECT_LT(t.runs[0].blocks().size(), all);
  EXPECT_LT(t.tilts[0].blocks().size(), all);
  EXPECT_LT(t.level.blocks().size(), all);  // a quarter of 4 K is more than 1 degF
  EXPECT_LT(t.readings[0].blocks().size(), all);
  EXPECT_EQ(t.readings[1].blocks().size(), all);
  for (std::size_t k = 0; k < t.pairs.size(); ++k)
    EXPECT_EQ(t.differences[k].blocks().size() == all, t.pairs[k].first != 0) << k;
  for (const int b : t.runs[0].blocks()) EXPECT_LT(t.blocks[static_cast<std::size_t>(b)].stint, 3);
}

TEST(OneSidedLid, MuddlesWhatHasNothingElseAtASettingAndSaysWhich) {
  const PracticeBurn plan{.order = {0, 1}};
  const auto burn = plan.burn();
  const auto panel = plan.panel(2);
  const auto w = slow_from(plan, plan.dwell_s, 2 * plan.dwell_s);  // all of B
  const auto report = judge(burn, panel, w, {.as_known_at_s = {}, .needs_stints = false});
  const auto& tilt = report.tilts.at(0).tilt.changes.at(0);
  EXPECT_EQ(tilt.word, Word::muddled);
  EXPECT_EQ(tilt.because, std::vector<TroubleIndex>{0});
  EXPECT_TRUE(tilt.estimate);
  EXPECT_EQ(report.spread.changes.at(0).word, Word::muddled);
  ASSERT_EQ(report.lids.size(), 1u);
  const auto clean =
      judge(burn, panel, plan.windows(), {.as_known_at_s = {}, .needs_stints = false});
  EXPECT_NE(clean.tilts.at(0).tilt.changes.at(0).word, Word::muddled);
}

}  // namespace
}  // namespace pitwright::call
