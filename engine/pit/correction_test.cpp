#include "pit/correction.h"

#include <cmath>

#include <gtest/gtest.h>

namespace pitwright {
namespace {

const Correction line{{{0.0, -1.0, 0.2}, {100.0, 1.0, 0.6}}, 0.0, {}, {}};

TEST(Correction, OfOnePointHoldsEverywhereAndOfNoneAddsNothing) {
  const Correction one{{{50.0, -1.5, 0.4}}, 0.0, {}, {}};
  for (const double reading_c : {-20.0, 50.0, 300.0}) {
    EXPECT_EQ(correction_k(one, reading_c), -1.5);
    EXPECT_EQ(uncertainty_k(one, reading_c), 0.4);
    EXPECT_EQ(correction_k({}, reading_c), 0.0);
    EXPECT_FALSE(uncertainty_k({}, reading_c));
  }
}

TEST(Correction, OfTwoPointsIsALineThatGoesOnBeyondThem) {
  EXPECT_DOUBLE_EQ(correction_k(line, 25.0), -0.5);
  EXPECT_DOUBLE_EQ(correction_k(line, 150.0), 2.0);
  EXPECT_DOUBLE_EQ(correction_k(line, -50.0), -2.0);
}

TEST(Correction, OfMorePointsBendsAtEach) {
  const Correction bent{{{0.0, 0.0, {}}, {50.0, 1.0, {}}, {100.0, 0.0, {}}}, 0.0, {}, {}};
  EXPECT_DOUBLE_EQ(correction_k(bent, 25.0), 0.5);
  EXPECT_DOUBLE_EQ(correction_k(bent, 50.0), 1.0);
  EXPECT_DOUBLE_EQ(correction_k(bent, 75.0), 0.5);
  EXPECT_DOUBLE_EQ(correction_k(bent, 125.0), -0.5);
  EXPECT_FALSE(uncertainty_k(bent, 25.0));
}

TEST(Correction, IsMeasuredAtItsPointsAndLessSureTheFartherFromThem) {
  EXPECT_DOUBLE_EQ(*uncertainty_k(line, 0.0), 0.2);
  EXPECT_DOUBLE_EQ(*uncertainty_k(line, 100.0), 0.6);
  EXPECT_DOUBLE_EQ(*uncertainty_k(line, 50.0), 0.4);
  EXPECT_DOUBLE_EQ(*uncertainty_k(line, 150.0), std::hypot(0.5 * 0.2, 1.5 * 0.6));
  EXPECT_DOUBLE_EQ(*uncertainty_k(line, -100.0), std::hypot(2.0 * 0.2, 1.0 * 0.6));
  double last = 0.6;
  for (const double reading_c : {101.0, 120.0, 150.0, 250.0}) {
    const double now = *uncertainty_k(line, reading_c);
    EXPECT_GT(now, last);
    last = now;
  }
  EXPECT_NEAR(*uncertainty_k(line, 100.0 + 1e-9), 0.6, 1e-9);  // no step at the ends
}

}  // namespace
}  // namespace pitwright
