#include "design/orders.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/expects.h"

namespace pitwright::design {
namespace {

constexpr double swings_counted = 3.0;
constexpr double least_counted_s = 600.0, least_without_swing_s = 1200.0;
constexpr double rounding_s = 300.0;

void append(std::vector<int>& order, const std::vector<int>& more) {
  order.insert(order.end(), more.begin(), more.end());
}

std::vector<int> there_and_back(const std::vector<int>& there) {
  std::vector<int> order = there;
  order.insert(order.end(), there.rbegin(), there.rend());
  return order;
}

}  // namespace

std::vector<std::vector<int>> counterbalanced_orders(int settings) {
  expects(settings >= 2);
  std::vector<int> there(static_cast<std::size_t>(settings));
  std::iota(there.begin(), there.end(), 0);
  auto rotated = there;
  std::ranges::rotate(rotated, rotated.begin() + 1);
  const auto once = there_and_back(there);
  auto again = once, twice = once;
  append(again, there);
  append(twice, there_and_back(rotated));
  return {once, again, twice};
}

double settling_s(const Habits& habits) {
  return std::log(20.0) * habits.lag_s;
}

double shortest_dwell_s(const Habits& habits) {
  double counted = least_without_swing_s;
  if (habits.fire_cycle_s > 0.0) counted = habits.fire_cycle_s;
  if (habits.swing.period_s)
    counted = std::max(least_counted_s, swings_counted * *habits.swing.period_s);
  return rounding_s * std::ceil((settling_s(habits) + counted) / rounding_s - 1e-9);
}

}  // namespace pitwright::design
