#include "numeric/mixture.h"

#include <cmath>

#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <gtest/gtest.h>

#include "numeric/half_t.h"
#include "numeric/normal_tail.h"
#include "numeric/random.h"

namespace pitwright::numeric {
namespace {

using boost::math::normal;

TEST(Mixture, QuantilesOfOneNormalAreBoosts) {
  const auto mixture = normalized({{2.0, 3.0, 0.5}});
  const normal reference(3.0, 0.5);
  for (const double p : {0.4, 0.025, 1e-3, 1e-6, 1e-12}) {
    EXPECT_NEAR(upper_quantile(mixture, p), quantile(complement(reference, p)), 1e-9);
    EXPECT_NEAR(lower_quantile(mixture, p), quantile(reference, p), 1e-9);
  }
}

TEST(Mixture, QuantilesInvertTheChanceThatBoostGives) {
  Random random(5);
  for (int trial = 0; trial < 50; ++trial) {
    std::vector<Component> parts;
    for (int i = 0; i < 40; ++i)
      parts.push_back({random.uniform(), 4.0 * random.normal(), std::exp(random.normal())});
    const auto mixture = normalized(parts);
    for (const double p : {0.3, 0.025, 1e-4}) {
      double above = 0.0, below = 0.0;
      const auto range = central_interval(mixture, 2.0 * p);
      for (const auto& c : mixture.components) {
        above += c.weight * cdf(complement(normal(c.mean, c.sd), range.high));
        below += c.weight * cdf(normal(c.mean, c.sd), range.low);
      }
      EXPECT_NEAR(above / p, 1.0, 1e-8) << "trial " << trial;
      EXPECT_NEAR(below / p, 1.0, 1e-8) << "trial " << trial;
      EXPECT_NEAR(cdf(mixture, range.low), p, 1e-8 * p);
    }
  }
}

// Source: a normal whose precision has a gamma law is Student's t (textbook fact, from memory);
// the t quantile is Boost's. The mixture's own grid limits the agreement.
TEST(Mixture, ManyNormalsOfOneMeanMakeStudentsT) {
  constexpr double nu = 5.0;
  std::vector<Component> parts;
  for (double log_g = -4.0; log_g < 5.0; log_g += 0.02) {
    const double g = std::exp(log_g);
    parts.push_back({std::pow(g, -nu) * std::exp(-nu / (2.0 * g * g)), 0.0, g});
  }
  const auto mixture = normalized(parts);
  const boost::math::students_t t(nu);
  for (const double p : {0.1, 0.025, 0.001})
    EXPECT_NEAR(upper_quantile(mixture, p) / quantile(complement(t, p)), 1.0, 1e-8);
}

TEST(Mixture, TheSmallestTailsDoNotStopTheSearch) {
  const auto mixture = normalized({{1.0, 0.0, 1e-6}, {1e-9, 50.0, 3.0}});
  const double x = upper_quantile(mixture, 1e-10);
  EXPECT_NEAR(x, quantile(complement(normal(50.0, 3.0), 0.1)), 1e-6);
}

// Source: Boost.Math's normal distribution.
TEST(NormalTail, IsBoostsToTenDigits) {
  const normal reference(0.0, 1.0);
  for (double z = -12.0; z < 30.0; z += 0.00317) {
    const auto tail = normal_tail(z);
    EXPECT_NEAR(tail.chance / cdf(complement(reference, z)), 1.0, 1e-10) << z;
    EXPECT_NEAR(tail.density / pdf(reference, z), 1.0, 1e-10) << z;
  }
}

TEST(HalfT, IsBoostsDensityOfTTwiceOver) {
  const boost::math::students_t t(4.0);
  for (const double x : {0.0, 0.3, 1.7, 9.0, 120.0})
    EXPECT_NEAR(log_half_t4(x, 1.7), std::log(2.0 / 1.7 * pdf(t, x / 1.7)), 1e-12);
}

}  // namespace
}  // namespace pitwright::numeric
