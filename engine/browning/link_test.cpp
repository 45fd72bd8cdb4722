#include "browning/link.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "browning/anchored.h"
#include "numeric/random.h"

namespace pitwright::browning {
namespace {

/// Slices whose heat follows one of the link's own shapes exactly.
struct Exact {
  std::vector<Browned> slices;
  std::vector<double> heat;
};

Exact exact(Shape shape, double a, double b) {
  Exact made;
  for (double lightness = 78.0; lightness > 30.0; lightness -= 4.0) {
    made.slices.push_back({lightness, 0.1});
    made.heat.push_back(a + b * coordinate_of(lightness, shape, {}).c);
  }
  return made;
}

std::vector<Anchor> anchors_at(const Exact& made, const std::vector<int>& at, double sd = 0.3) {
  std::vector<Anchor> anchors;
  for (const int i : at) anchors.push_back({i, made.heat[static_cast<std::size_t>(i)], sd});
  return anchors;
}

TEST(Link, FollowsEachOfItsShapesFromSixGoodAnchors) {
  for (const auto shape : all_shapes) {
    const auto made = exact(shape, 180.0, 14.0);
    const auto heats = fit_link(made.slices, anchors_at(made, {0, 2, 4, 7, 9, 11}));
    for (std::size_t i = 0; i < made.heat.size(); ++i)
      EXPECT_NEAR(heats.mean_c[i], made.heat[i], 1.0) << "shape " << static_cast<int>(shape);
    EXPECT_LT(heats.scatter_k, 1.5);
  }
}

TEST(Link, RisesWithBrowningWhateverItsAnchorsSay) {
  numeric::Random random(3);
  for (int trial = 0; trial < 20; ++trial) {
    const auto made = exact(Shape::logit, 180.0, 10.0);
    std::vector<Anchor> anchors;
    for (const int i : {1, 5, 9}) anchors.push_back({i, 180.0 + 15.0 * random.normal(), 1.0});
    const auto heats = fit_link(made.slices, anchors);
    EXPECT_TRUE(std::ranges::is_sorted(heats.mean_c));
  }
}

TEST(Link, OfOneAnchorTakesItsLevelAndBorrowsTheSteepness) {
  const auto made = exact(Shape::first_order, 180.0, 18.0);
  const auto heats = fit_link(made.slices, anchors_at(made, {5}));
  EXPECT_NEAR(heats.mean_c[5], made.heat[5], 0.5);
  EXPECT_GT(heats.sd_k[0], 3.0 * heats.sd_k[5]);
}

TEST(Link, IsNotPulledByOneAnchorThatStandsApart) {
  const auto made = exact(Shape::logit, 180.0, 12.0);
  auto anchors = anchors_at(made, {0, 2, 4, 6, 8, 10}, 1.0);
  anchors[5].heat_c -= 14.0;  // 25 F of radiant heat that the probe did not see
  const auto heats = fit_link(made.slices, anchors);
  EXPECT_GT(heats.apart[5], 0.8);
  for (std::size_t j = 0; j < 5; ++j) EXPECT_LT(heats.apart[j], 0.3);
  EXPECT_NEAR(heats.mean_c[10], made.heat[10], 4.0);
  const auto apart = apart_from_air(made.slices, anchors);
  EXPECT_TRUE(apart[5].disagrees);
  EXPECT_NEAR(apart[5].difference_k, 14.0, 4.0);
  EXPECT_EQ(std::ranges::count_if(apart, [](const Apart& a) { return a.disagrees; }), 1);
}

TEST(Apart, SaysNothingBelowThreeAnchors) {
  const auto made = exact(Shape::logit, 180.0, 12.0);
  EXPECT_TRUE(apart_from_air(made.slices, anchors_at(made, {1, 9})).empty());
}

// Curves that are none of the link's own: error function and a power law.
double foreign_lightness(double heat_c, int kind) {
  const double t = (heat_c - 180.0) / 12.0;
  return kind == 0 ? 50.0 - 33.0 * std::erf(0.55 * t)
                   : 14.0 + 70.0 / (1.0 + std::exp(1.1 * t) * std::pow(1.2, t));
}

TEST(Link, KeepsItsPromiseOnCurvesThatAreNotItsOwn) {
  numeric::Random random(11);
  int held = 0, all = 0;
  double squares = 0.0;
  for (int trial = 0; trial < 60; ++trial) {
    std::vector<Browned> slices;
    std::vector<double> heat;
    for (int i = 0; i < 20; ++i) {
      heat.push_back(180.0 + 8.0 * random.normal());
      slices.push_back(
          {std::clamp(foreign_lightness(heat.back(), trial % 2) + 1.2 * random.normal(), 16.0,
                      84.0),
           0.5});
    }
    std::vector<Anchor> anchors;
    for (int j = 0; j < 6; ++j)
      anchors.push_back(
          {3 * j, heat[static_cast<std::size_t>(3 * j)] + 0.8 * random.normal(), 0.8});
    const auto heats = fit_link(slices, anchors);
    for (std::size_t i = 0; i < heat.size(); ++i) {
      if (slices[i].lightness > 80.0 || slices[i].lightness < 26.0) continue;
      ++all;
      const double off = heats.mean_c[i] - heat[i];
      squares += off * off;
      held += std::abs(off) < 1.96 * heats.sd_k[i] ? 1 : 0;
    }
  }
  EXPECT_GT(static_cast<double>(held) / all, 0.93);
  EXPECT_LT(std::sqrt(squares / all), 6.0 / 1.8);  // the bar of docs/methods/toast.md
}

TEST(Link, GivesACovarianceThatHoldsItsVariances) {
  const auto made = exact(Shape::logit, 180.0, 12.0);
  const auto heats = fit_link(made.slices, anchors_at(made, {1, 6, 10}));
  const std::size_t n = made.slices.size();
  for (std::size_t i = 0; i < n; ++i) {
    EXPECT_NEAR(heats.covariance[i * n + i], heats.sd_k[i] * heats.sd_k[i], 1e-9);
    for (std::size_t j = 0; j < n; ++j) {
      EXPECT_NEAR(heats.covariance[i * n + j], heats.covariance[j * n + i], 1e-7);
      EXPECT_LE(std::abs(heats.covariance[i * n + j]), heats.sd_k[i] * heats.sd_k[j] + 1e-9);
    }
  }
}

// The slow obvious version: every set of anchors, sums made anew.
TEST(Anchored, EqualsTheSumOverAllSets) {
  const std::vector<Placed> anchors{{-1.0, 168.0, 1.0, 0.1}, {0.0, 181.0, 2.0, 0.1},
                                    {0.7, 190.0, 1.0, 0.2},  {1.5, 195.0, 1.5, 0.1},
                                    {0.3, 170.0, 1.0, 0.1},  {-0.4, 176.0, 1.0, 0.3}};
  const double b = 11.0, s = 0.9;
  double total = 0.0, mean = 0.0;
  for (unsigned mask = 0; mask < 64; ++mask) {
    if (__builtin_popcount(mask) > 2) continue;
    double w = 0.0, wr = 0.0, log = 0.0;
    std::vector<double> v;
    for (std::size_t j = 0; j < 6; ++j) {
      const bool out = (mask >> j & 1U) != 0U;
      const double photo = b * anchors[j].lightness_c_sd;
      v.push_back(anchors[j].variance + s * s + photo * photo + (out ? 225.0 : 0.0));
      w += 1.0 / v[j];
      wr += (anchors[j].y - b * anchors[j].c) / v[j];
      log += std::log(out ? 0.1 : 0.9) - 0.5 * std::log(v[j]);
    }
    for (std::size_t j = 0; j < 6; ++j) {
      const double r = anchors[j].y - b * anchors[j].c - wr / w;
      log -= 0.5 * r * r / v[j];
    }
    const double weight = std::exp(log - 0.5 * std::log(w));
    total += weight;
    mean += weight * wr / w;
  }
  const auto fast = anchored(anchors, b, s);
  EXPECT_NEAR(fast.log_weight, std::log(total), 1e-9);
  EXPECT_NEAR(fast.a, mean / total, 1e-9);
}

}  // namespace
}  // namespace pitwright::browning
