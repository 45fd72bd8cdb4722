#include "numeric/random.h"

#include <cmath>

#include <gtest/gtest.h>

namespace pitwright::numeric {
namespace {

TEST(Random, TheSameSeedGivesTheSameStreamAndAnotherStreamDiffers) {
  Random a(7), b(7), c(7, 1);
  bool all_equal = true;
  for (int i = 0; i < 100; ++i) {
    const auto x = a.bits();
    EXPECT_EQ(x, b.bits());
    all_equal = all_equal && x == c.bits();
  }
  EXPECT_FALSE(all_equal);
}

TEST(Random, NormalsHaveTheMomentsOfANormal) {
  Random random(11);
  constexpr int n = 200000;
  double sum = 0, squares = 0, fourths = 0;
  for (int i = 0; i < n; ++i) {
    const double z = random.normal();
    sum += z;
    squares += z * z;
    fourths += z * z * z * z;
  }
  // Five standard errors: sd of the mean 1/sqrt(n), of the square sqrt(2/n), of the fourth power
  // sqrt(96/n).
  EXPECT_NEAR(sum / n, 0.0, 5.0 * std::sqrt(1.0 / n));
  EXPECT_NEAR(squares / n, 1.0, 5.0 * std::sqrt(2.0 / n));
  EXPECT_NEAR(fourths / n, 3.0, 5.0 * std::sqrt(96.0 / n));
}

TEST(Random, UniformsStayInsideTheirHalfOpenRange) {
  Random random(3);
  for (int i = 0; i < 10000; ++i) {
    const double u = random.uniform(-2.0, 5.0);
    EXPECT_GE(u, -2.0);
    EXPECT_LT(u, 5.0);
    EXPECT_LT(random.below(6), 6);
  }
}

}  // namespace
}  // namespace pitwright::numeric
