#include "call/join.h"

#include <cmath>

#include <gtest/gtest.h>

#include "call/practice_burn.h"

namespace pitwright::call {
namespace {

struct Joined {
  Panel panel;
  Windows windows;
  Moments moments;
  Tables tables;
  Together together;
};

Joined joined(const PracticeBurn& burn, std::uint64_t seed = 3) {
  Joined all{burn.panel(seed), burn.windows(), {}, {}, {}};
  all.moments = find_moments(all.panel, all.windows);
  all.tables = make_tables(all.panel, all.windows, all.moments, false);
  all.together = join(all.panel, all.windows, all.moments, all.tables);
  return all;
}

TEST(Join, MeansAndVariancesAreThoseOfTheLaws) {
  const auto all = joined({});
  for (std::size_t i = 0; i < all.tables.runs.size(); ++i) {
    const auto joint = all.tables.runs[i].joint();
    for (int s = 0; s < 2; ++s) {
      const auto law = *all.tables.runs[i].at(s);
      EXPECT_NEAR(joint.mean(s), numeric::mean(law), 1e-9);
      EXPECT_NEAR(std::sqrt(joint.covariance(s, s)), numeric::sd(law), 1e-9);
      EXPECT_NEAR(all.together.spots[i].run_k[static_cast<std::size_t>(s)], joint.mean(s), 1e-12);
    }
    const auto change = *all.tables.runs[i].change(0, 1);
    EXPECT_NEAR(joint.mean(1) - joint.mean(0), numeric::mean(change), 1e-9);
    EXPECT_NEAR(
        std::sqrt(joint.covariance(0, 0) + joint.covariance(1, 1) - 2.0 * joint.covariance(0, 1)),
        numeric::sd(change), 1e-9);
  }
  const auto level = *all.tables.level.at(1);
  EXPECT_NEAR(all.together.level_c[1], numeric::mean(level), 1e-9);
  EXPECT_NEAR(all.together.level_covariance_k2[3], std::pow(numeric::sd(level), 2), 1e-9);
}

TEST(Join, SpotsOwnErrorsMakeTheErrorsOfTheRuns) {
  const auto all = joined({});
  const double n = static_cast<double>(all.together.spots.size());
  double sum = 0.0;
  for (const auto& spot : all.together.spots) sum += spot.covariance_k2[0];
  for (std::size_t i = 0; i < all.together.spots.size(); ++i) {
    // Var(e_i - mean e) with independent errors.
    const double own = all.together.spots[i].covariance_k2[0];
    const double of_run = own * (1.0 - 2.0 / n) + sum / (n * n);
    const double told = all.tables.runs[i].joint().covariance(0, 0);
    EXPECT_NEAR(of_run, told, 0.25 * told) << i;
  }
}

TEST(Join, CountedReadingsAreThoseOfTheCountedTime) {
  const auto all = joined({.level_k = {120.0, 131.0}, .swing_k = 8.0, .drift_k = 0.0});
  const auto& spot = all.together.spots[0];
  EXPECT_NEAR(spot.counted[0].mean_c, 120.0 + 4.0, 2.0);
  EXPECT_NEAR(spot.counted[1].mean_c, 131.0 + 4.0, 2.0);
  EXPECT_GT(spot.counted[0].high_c - spot.counted[0].low_c, 6.0);
  EXPECT_LT(spot.counted[0].sd_k, 6.0);
  EXPECT_TRUE(std::isnan(all.together.outside_c[0]));
}

TEST(Join, SettingThatWasNeverCountedHasNoNumbers) {
  PracticeBurn burn;
  burn.order = {0, 1, 0};
  auto all = joined(burn);
  auto windows = all.windows;
  windows.stints[1].counted_from_s.reset();
  windows.stints[1].counted_to_s.reset();
  const auto moments = find_moments(all.panel, windows);
  const auto tables = make_tables(all.panel, windows, moments, false);
  const auto together = join(all.panel, windows, moments, tables);
  EXPECT_TRUE(std::isfinite(together.level_c[0]));
  EXPECT_TRUE(std::isnan(together.level_c[1]));
  EXPECT_TRUE(std::isnan(together.spots[0].run_k[1]));
  EXPECT_EQ(together.spots[0].counted[1].moments, 0);
}

}  // namespace
}  // namespace pitwright::call
