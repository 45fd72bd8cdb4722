#include "series/resample.h"

#include <cmath>
#include <vector>

#include <gtest/gtest.h>

namespace pitwright::series {
namespace {

TEST(Resample, ABinHoldsTheMeanOfItsReadings) {
  const std::vector<double> t = {0, 1, 2, 3, 4, 5}, y = {1, 2, 3, 4, 5, NAN};
  const auto out = on_moments(t, y, {0.0, 2.0, 3});
  EXPECT_EQ(out, (std::vector<double>{1.5, 3.5, 5.0}));
}

TEST(Resample, ASlowLoggerLeavesNoHolesButARealGapStays) {
  std::vector<double> t, y;
  for (int i = 0; i < 10; ++i) {
    if (i == 5) continue;  // one reading lost: 120 s between neighbors of a 60 s logger
    t.push_back(60.0 * i);
    y.push_back(6.0 * i);
  }
  const auto out = on_moments(t, y, {0.0, 10.0, 54});
  for (int j = 1; j < 54; ++j) {
    const double center = 10.0 * j + 5.0;
    const bool is_gap = center > 250.0 && center < 360.0;
    const double v = out[static_cast<std::size_t>(j)];
    EXPECT_EQ(std::isnan(v), is_gap) << center;
    // A bin with a reading keeps it (up to half a bin, 0.5 K, from the line); others lie on it.
    if (is_gap) continue;
    EXPECT_NEAR(v, center / 10.0, 0.5 + 1e-9);
  }
}

TEST(Resample, AnIntervalALittleLongerThanTheBinLeavesNoHoles) {
  std::vector<double> t, y;
  for (int i = 0; i < 500; ++i) {
    t.push_back(10.4 * i);
    y.push_back(t.back());
  }
  const auto out = on_moments(t, y, {0.0, 10.0, 518});
  for (const double v : out) EXPECT_TRUE(std::isfinite(v));
}

TEST(Resample, NothingIsMadeUpBeforeTheFirstOrAfterTheLastReading) {
  const std::vector<double> t = {100, 110, 120}, y = {1, 1, 1};
  const auto out = on_moments(t, y, {0.0, 10.0, 30});
  EXPECT_TRUE(std::isnan(out[5]));
  EXPECT_TRUE(std::isnan(out[20]));
  EXPECT_EQ(out[10], 1.0);
}

TEST(Resample, TheUsualIntervalIsTheMedianAndReadingsOutsideTheMomentsAreIgnored) {
  const std::vector<double> t = {-5, 0, 1, 2, 40}, y = {9, 1, 2, 3, 9};
  EXPECT_EQ(usual_interval_s(t, y), 3.0);
  EXPECT_EQ(on_moments(t, y, {0.0, 1.0, 3}), (std::vector<double>{1, 2, 3}));
}

}  // namespace
}  // namespace pitwright::series
