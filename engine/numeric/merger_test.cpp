#include "numeric/merger.h"

#include <cmath>

#include <gtest/gtest.h>

#include "numeric/random.h"

namespace pitwright::numeric {
namespace {

TEST(Merger, KeepsMeanAndVarianceExactlyAndRangesNearly) {
  Random random(8);
  for (int trial = 0; trial < 20; ++trial) {
    std::vector<Component> all;
    const double log_low = -1.0, log_high = 2.0, center = 5.0;
    Merger merger(center, log_low, log_high);
    for (int i = 0; i < 4000; ++i) {
      const double log_sd = random.uniform(log_low, log_high);
      const Component c{std::exp(-2.0 * log_sd * log_sd) * random.uniform(),
                        center + 0.3 * random.normal(), std::exp(log_sd)};
      merger.add(c.weight, c.mean, log_sd, c.sd * c.sd);
      all.push_back(c);
    }
    const auto exact = normalized(all);
    const auto merged = merger.merged();
    EXPECT_LT(merged.components.size(), 500u);
    EXPECT_NEAR(mean(merged), mean(exact), 1e-12);
    EXPECT_NEAR(sd(merged), sd(exact), 1e-12);
    const auto moved = [&](double error) {
      const auto a = central_interval(exact, error), b = central_interval(merged, error);
      return std::max(std::abs(a.low - b.low), std::abs(a.high - b.high)) / (a.high - a.low);
    };
    EXPECT_LT(moved(0.05), 5e-4) << "trial " << trial;
    EXPECT_LT(moved(1e-4), 2e-3) << "trial " << trial;
  }
}

}  // namespace
}  // namespace pitwright::numeric
