// S5: a brick room started too early.

#include <algorithm>
#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scenarios/days.h"

namespace pitwright::scenarios {
namespace {

using call::Word;
using testing::HasSubstr;

/// The level less its truth, mean over four minutes about a moment [degF]. Nothing is random.
double short_f(const rehearse::RehearsedBurn& made, double minute) {
  double sum = 0.0;
  int count = 0;
  for (const auto& probe : made.burn.probes) {
    if (probe.role != Role::air) continue;
    for (std::size_t i = 0; i < probe.readings.seconds.size(); ++i) {
      if (std::abs(probe.readings.seconds[i] - 60.0 * minute) > 121.0) continue;
      sum += probe.readings.values[i];
      ++count;
    }
  }
  return 1.8 * (made.truth.settings[0].level_c - sum / count);
}

TEST(BrickRoom, NearsItsEndAsTheScenarioSays) {
  auto quiet = scenario("S5", {"A", "A", "A", "A", "A"});
  quiet.model.disturbance = {.gust_m_s = 0};
  for (auto& spot : quiet.model.spots) spot.place.eddy_k = 0.0;
  const auto made = rehearse::rehearse(quiet, 1);
  ASSERT_TRUE(made);
  EXPECT_NEAR(short_f(*made, 3), 35.0, 5.0);
  // Slopes of 12, 6, 4.5 and 3 degF an hour, over ten minutes about each moment.
  for (const auto& [minute, slope] :
       {std::pair{60.0, 12.0}, {90.0, 6.0}, {105.0, 4.5}, {120.0, 3.0}}) {
    const double found = 6.0 * (short_f(*made, minute - 5) - short_f(*made, minute + 5));
    EXPECT_NEAR(found, slope, std::max(1.0, 0.15 * slope)) << minute;
  }
  // A time constant of 45 min.
  EXPECT_NEAR(60.0 / std::log(short_f(*made, 40) / short_f(*made, 100)), 45.0, 4.0);
}

TEST(BrickRoom, ForcedToStartColdMuddlesEveryQuestion) {
  for (const auto& order : {std::vector<std::string>{"A", "B"}, {"A", "B", "B", "A"}}) {
    const auto days = days_of(scenario("S5", order));
    const double false_f = order.size() == 2 ? 11.0 : 4.0;  // what nothing looks like
    EXPECT_NEAR(mean_change_f(days, "level", "A", "B"), false_f, 2.0);
    for (const auto& day : days) {
      EXPECT_EQ(change_of(day, "level", "A", "B").word, Word::muddled) << day.seed;
      EXPECT_EQ(change_of(day, "left-right", "A", "B").word, Word::muddled) << day.seed;
      EXPECT_THAT(sentence_of(day), HasSubstr("still heating")) << day.seed;
    }
  }
}

TEST(BrickRoom, IsSoakedWhenLittleIsLeftToComeAndNotBefore) {
  auto waited = scenario("S5", {"A"});
  waited.plan.lead_s = 130 * 60.0;
  std::vector<double> soaked_min;
  for (const auto& day : days_of(waited))
    soaked_min.push_back(day.report.soaked_at_s.value_or(INFINITY) / 60.0);
  std::ranges::sort(soaked_min);
  RecordProperty("soaked_min", std::to_string(soaked_min[10]));
  EXPECT_GE(soaked_min[2], 95.0);  // with everything known it would be 95 min
  EXPECT_LE(soaked_min[10], 150.0);
  EXPECT_LT(soaked_min[16], 170.0);
}

}  // namespace
}  // namespace pitwright::scenarios
