// S8: a fouled control sensor. S9: a lid opened twice, unmarked.

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "call/call.h"
#include "scenarios/days.h"

namespace pitwright::scenarios {
namespace {

using call::TroubleCode;
using call::Word;
using testing::HasSubstr;
using testing::IsEmpty;

TEST(FouledSensor, WipedOnceTheDialGapHasSurelyChanged) {
  const auto days = days_of(scenario("S8"));
  EXPECT_THAT(wrong_words(days), IsEmpty());
  EXPECT_GE(days_near(days, "dial gap", "fouled", "clean", Word::clear), days_that_must_agree);
  EXPECT_GE(days_near(days, "left-right", "fouled", "clean", Word::no_odds), days_that_must_agree);
  EXPECT_NEAR(mean_change_f(days, "dial gap", "fouled", "clean"), 19.4, 2.5);
}

TEST(FouledSensor, TheSwingIsToldForEachSettingAndTheFouledOneIsWiderAndLonger) {
  const auto days = days_of(scenario("S8"));
  int wider = 0, longer = 0;
  for (const auto& day : days) {
    const auto& swings = day.report.swing_by_setting;
    ASSERT_EQ(swings.size(), 2u);
    ASSERT_TRUE(swings[0] && swings[1]);
    wider += swings[0]->size_k > 1.3 * swings[1]->size_k ? 1 : 0;
    longer += swings[0]->period_s.value_or(0.0) > swings[1]->period_s.value_or(0.0) ? 1 : 0;
  }
  EXPECT_GE(wider, days_that_must_agree);
  EXPECT_GE(longer, days_that_must_agree);
}

TEST(FouledSensor, PutBackAndForthTheGapIsClearAndTheDistributionUnchanged) {
  const auto days = days_of(scenario("S8", {"fouled", "clean", "clean", "fouled"}));
  EXPECT_THAT(wrong_words(days), IsEmpty());
  int clear = 0, unchanged = 0;
  for (const auto& day : days) {
    clear += change_of(day, "dial gap", "fouled", "clean").word == Word::clear ? 1 : 0;
    const auto text = sentence_of(day);
    unchanged += text.find("No odds in where the heat lies") != std::string::npos ||
                         text.find("No odds in the tilt") != std::string::npos
                     ? 1
                     : 0;
  }
  EXPECT_GE(clear, days_that_must_agree);
  EXPECT_GE(unchanged, days_that_must_agree);
  EXPECT_NEAR(mean_change_f(days, "dial gap", "fouled", "clean"), 19.4, 1.5);
  EXPECT_LE(half_width_f(days, "dial gap", "fouled", "clean"), 4.5);  // "19 +-4" in whole degrees
}

TEST(TwinShelf, SuggestsBothOpeningsAndLosesNoStintToTheShortOne) {
  const auto plan = scenario("S9");
  const auto days = days_of(plan);
  EXPECT_THAT(wrong_words(days), IsEmpty());
  int found = 0;
  for (const auto& day : days) {
    std::vector<double> at_s;
    for (const auto& one : day.report.troubles)
      if (one.code == TroubleCode::lid_unmarked) at_s.push_back(one.at_s.value_or(0.0));
    if (at_s.size() != 2) continue;
    found += std::abs(at_s[0] - plan.plan.lids[0].at_s) <= 30.0 &&
                     std::abs(at_s[1] - plan.plan.lids[1].at_s) <= 30.0
                 ? 1
                 : 0;
    const auto& third = day.report.stints[2];
    EXPECT_EQ(third.state, call::StintState::closed) << day.seed;
    EXPECT_TRUE(third.counted_from_s) << day.seed;
    EXPECT_GE(third.excluded_s, 120.0) << day.seed;
    EXPECT_LE(third.excluded_s, 600.0) << day.seed;
  }
  EXPECT_GE(found, days_that_must_agree);
}

TEST(TwinShelf, ALidAsksForAsMuchMoreTimeAsItCost) {
  auto open = scenario("S9");
  auto shut = open;
  shut.plan.lids.clear();
  shut.plan.loads.clear();
  const double now_s = 2 * 2400 + 30 * 60.0;  // 30 min into the third stint
  int longer = 0;
  for (int seed = 1; seed <= day_count; ++seed) {
    const auto with = rehearse::rehearse(open, static_cast<std::uint64_t>(seed), {false});
    const auto without = rehearse::rehearse(shut, static_cast<std::uint64_t>(seed), {false});
    ASSERT_TRUE(with && without);
    const call::Options then{.as_known_at_s = now_s, .needs_stints = false};
    const auto a = call::make_call(with->burn, then), b = call::make_call(without->burn, then);
    ASSERT_TRUE(a && b);
    const double cost_s = b->live.value().counting_s - a->live.value().counting_s;
    longer += cost_s > 120.0 && cost_s < 600.0 ? 1 : 0;  // five minutes, more or less
  }
  EXPECT_GE(longer, days_that_must_agree);
}

}  // namespace
}  // namespace pitwright::scenarios
