#include "series/smooth.h"

#include <cmath>
#include <span>
#include <vector>

#include <gtest/gtest.h>

#include "numeric/random.h"

namespace pitwright::series {
namespace {

/// The straight-line fit over one window, written out.
double line_at(const std::vector<double>& y, int j, int half) {
  double n = 0, st = 0, sx = 0, stt = 0, stx = 0;
  for (int i = std::max(0, j - half); i <= std::min(static_cast<int>(y.size()) - 1, j + half);
       ++i) {
    const double v = y[static_cast<std::size_t>(i)];
    if (!std::isfinite(v)) continue;
    const double t = i - j;
    n += 1, st += t, sx += v, stt += t * t, stx += t * v;
  }
  const double det = n * stt - st * st;
  return det > 0 ? (sx * stt - st * stx) / det : sx / n;
}

TEST(Smooth, TheRunningLineIsTheFitOfEachWindow) {
  numeric::Random random(5);
  std::vector<double> y;
  for (int i = 0; i < 300; ++i) y.push_back(150.0 + 0.1 * i + random.normal());
  for (int i = 100; i < 110; ++i) y[static_cast<std::size_t>(i)] = NAN;
  const auto fast = running_line(y, 12);
  for (int j = 0; j < 300; ++j) {
    EXPECT_NEAR(fast[static_cast<std::size_t>(j)], line_at(y, j, 12), 1e-9);  // rounding of sums
  }
}

TEST(Smooth, TheRunningLineFollowsASlopeUpToBothEnds) {
  std::vector<double> y;
  for (int i = 0; i < 50; ++i) y.push_back(3.0 * i);
  const auto line = running_line(y, 10);
  for (std::size_t i = 0; i < y.size(); ++i) EXPECT_NEAR(line[i], y[i], 1e-9);
}

TEST(Smooth, ThinningAveragesAndKeepsHolesThatAreMostlyEmpty) {
  const std::vector<double> y = {1, 3, NAN, 5, NAN, NAN, 7};
  const auto out = thinned(y, 2);
  ASSERT_EQ(out.size(), 3u);
  EXPECT_EQ(out[0], 2.0);
  EXPECT_EQ(out[1], 5.0);
  EXPECT_TRUE(std::isnan(out[2]));
}

TEST(Smooth, ADropOutLeavesNoStepInTheCommonPart) {
  std::vector<double> a, b, c;
  for (int t = 0; t < 200; ++t) {
    const double common = 100.0 + std::sin(0.1 * t);
    a.push_back(common + 12.0);
    b.push_back(t > 80 && t < 150 ? NAN : common - 7.0);
    c.push_back(t < 60 ? NAN : common - 2.0);
  }
  const std::vector<std::span<const double>> all = {a, b, c};
  const auto found = common_of(all, 200);
  for (int t = 0; t < 200; ++t) {
    EXPECT_NEAR(found.common[static_cast<std::size_t>(t)], 101.0 + std::sin(0.1 * t), 1e-6);
  }
  EXPECT_NEAR(found.offsets[0], 11.0, 1e-6);
}

}  // namespace
}  // namespace pitwright::series
