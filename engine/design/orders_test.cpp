#include "design/orders.h"

#include <algorithm>
#include <cmath>
#include <set>

#include <gtest/gtest.h>

namespace pitwright::design {
namespace {

TEST(Orders, OfTwoSettingsAreTheKnownOnes) {
  const auto orders = counterbalanced_orders(2);
  ASSERT_EQ(orders.size(), 3u);
  EXPECT_EQ(orders[0], (std::vector{0, 1, 1, 0}));
  EXPECT_EQ(orders[1], (std::vector{0, 1, 1, 0, 0, 1}));
  EXPECT_EQ(orders[2], (std::vector{0, 1, 1, 0, 1, 0, 0, 1}));
}

// A steady drift adds the place in the order to every stint: means by setting must not see it.
TEST(Orders, ThereAndBackCancelsASteadyDrift) {
  for (int settings = 2; settings <= 6; ++settings) {
    const auto orders = counterbalanced_orders(settings);
    for (const auto* order : {&orders[0], &orders[2]}) {
      std::vector<double> sum(static_cast<std::size_t>(settings)), count(sum);
      for (std::size_t k = 0; k < order->size(); ++k) {
        const auto s = static_cast<std::size_t>((*order)[k]);
        sum[s] += static_cast<double>(k);
        count[s] += 1.0;
      }
      for (std::size_t s = 0; s < sum.size(); ++s)
        EXPECT_DOUBLE_EQ(sum[s] / count[s], sum[0] / count[0]) << settings << " settings";
    }
  }
}

TEST(Orders, RepeatEverySettingAndGrowFromOneToTheNext) {
  for (int settings = 2; settings <= 6; ++settings) {
    std::size_t before = 0;
    for (const auto& order : counterbalanced_orders(settings)) {
      EXPECT_GT(order.size(), before);
      before = order.size();
      for (int s = 0; s < settings; ++s) EXPECT_GE(std::ranges::count(order, s), 2);
    }
  }
}

TEST(Dwell, LeavesLessThanATenthOfMattersOfTwiceMatters) {
  Habits habits;
  habits.lag_s = 420.0;
  EXPECT_NEAR(2.0 * std::exp(-settling_s(habits) / habits.lag_s), 0.1, 1e-12);
}

TEST(Dwell, HoldsSettlingAndThreeWholeSwings) {
  Habits habits;
  habits.lag_s = 300.0;
  for (const double period : {180.0, 420.0, 1200.0}) {
    habits.swing.period_s = period;
    EXPECT_GE(shortest_dwell_s(habits) - settling_s(habits), std::max(600.0, 3.0 * period) - 1e-6);
    EXPECT_NEAR(std::remainder(shortest_dwell_s(habits), 300.0), 0.0, 1e-9);
  }
  habits.swing.period_s.reset();
  habits.fire_cycle_s = 2700.0;
  EXPECT_GE(shortest_dwell_s(habits) - settling_s(habits), 2700.0 - 1e-6);
}

}  // namespace
}  // namespace pitwright::design
