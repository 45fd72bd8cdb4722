#include "browning/light.h"

#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "numeric/random.h"

namespace pitwright::browning {
namespace {

double truth(double x, double y) {
  const double u = 2 * x - 1, v = 2 * y - 1;
  return -0.4 + 0.3 * u - 0.2 * v - 0.15 * u * u + 0.05 * u * v - 0.1 * v * v;
}

TEST(LightField, FindsASurfaceUnderAFifthOfForeignSamples) {
  numeric::Random random(7);
  std::vector<LightSample> samples;
  for (int i = 0; i < 150; ++i) {
    const double x = random.uniform(), y = random.uniform();
    const double foreign = i % 5 == 0 ? -1.2 : 0.0;
    samples.push_back({x, y, truth(x, y) + foreign + 0.01 * random.normal()});
  }
  const auto field = fit_light(samples);
  for (const double x : {0.0, 0.3, 1.0})
    for (const double y : {0.0, 0.6, 1.0}) EXPECT_NEAR(field.log_at(x, y), truth(x, y), 0.02);
  EXPECT_NEAR(field.residual_sd, 0.01 * 1.3, 0.006);  // a fifth of the samples widens it somewhat
}

TEST(LightField, IsAPlaneOfFewSamplesAndALevelOfOne) {
  const auto level = fit_light(std::vector<LightSample>{{0.2, 0.2, 0.7}});
  EXPECT_NEAR(level.log_at(0.9, 0.9), 0.7, 1e-12);
  EXPECT_NEAR(level.ratio(), 1.0, 1e-12);
  std::vector<LightSample> plane;
  for (const double x : {0.0, 1.0})
    for (const double y : {0.0, 1.0, 0.5}) plane.push_back({x, y, 0.5 * x - 0.25 * y});
  EXPECT_NEAR(fit_light(plane).ratio(), std::exp(0.75), 1e-6);
}

TEST(LightField, IsHeldBeyondATenthOutsideTheGrate) {
  std::vector<LightSample> plane;
  for (const double x : {0.0, 0.25, 0.5, 0.75, 1.0})
    for (const double y : {0.0, 0.5, 1.0}) plane.push_back({x, y, x});
  const auto field = fit_light(plane);
  EXPECT_NEAR(field.log_at(3.0, 0.5), 1.1, 1e-6);
}

}  // namespace
}  // namespace pitwright::browning
