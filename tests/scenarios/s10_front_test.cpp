// S10: a weather front passes; nothing that was moved does anything.

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/call_view.h"
#include "report/trouble_words.h"
#include "scenarios/days.h"

namespace pitwright::scenarios {
namespace {

using call::TroubleCode;
using call::Word;
using testing::HasSubstr;
using testing::IsEmpty;

rehearse::Scenario front_at(double minute, const std::vector<std::string>& order) {
  auto made = scenario("S10", order);
  made.plan.front->at_s = 60.0 * minute;
  return made;
}

TEST(BarrelFront, OnceThroughTheSettingsIsMuddledByTheWeather) {
  int muddled = 0;
  const auto days = days_of(front_at(60, {"A", "B", "C"}));
  EXPECT_THAT(wrong_words(days), IsEmpty());
  for (const auto& day : days) {
    muddled += change_of(day, "level", "A", "C").word == Word::muddled &&
                       change_of(day, "left-right", "A", "C").word == Word::muddled
                   ? 1
                   : 0;
    EXPECT_TRUE(has_trouble(day.report, TroubleCode::weather_changed)) << day.seed;
    EXPECT_THAT(sentence_of(day), HasSubstr("Two more stints in steady weather")) << day.seed;
  }
  EXPECT_EQ(muddled, day_count);
  // What the front alone looks like: the chamber colder, the firebox end hotter.
  EXPECT_LT(mean_change_f(days, "level", "A", "C"), -7.0);
  EXPECT_NEAR(mean_change_f(days, "left-right", "A", "C"), 6.0, 2.0);
}

TEST(BarrelFront, AMirroredOrderAnswersHonestlyWhereverTheFrontFalls) {
  for (const double minute : {70.0, 105.0, 140.0}) {
    const auto days = days_of(front_at(minute, {"A", "B", "C", "C", "B", "A"}));
    EXPECT_THAT(wrong_words(days), IsEmpty()) << minute;
    EXPECT_GE(days_near(days, "level", "A", "C", Word::not_yet), days_that_must_agree) << minute;
    EXPECT_GE(days_covering(days, "level", "A", "C", 0.0), days_that_must_agree) << minute;
    EXPECT_GE(days_covering(days, "left-right", "A", "C", 0.0), days_that_must_agree) << minute;
    RecordProperty(fmt::format("level_f_front_at_{:.0f}", minute),
                   fmt::format("{:.1f}", mean_change_f(days, "level", "A", "C")));
  }
}

TEST(BarrelFront, AFrontThatTheOrderSetsOffIsToldAndMuddlesNothing) {
  int told = 0, unmuddled = 0;
  for (const auto& day : days_of(front_at(105, {"A", "B", "C", "C", "B", "A"}))) {
    const auto* front = trouble(day.report, TroubleCode::weather_balanced, "outside");
    if (front == nullptr) continue;
    // 68 to 51 degF, in a quarter of an hour from minute 105 on.
    told += std::abs(front->amount * 1.8 + 17.0) < 3.0 &&
                    std::abs(front->at_s.value_or(0.0) - 6300.0) <= 1200.0
                ? 1
                : 0;
    EXPECT_THAT(report::trouble_text(*front, day.made.burn, Scale::fahrenheit),
                HasSubstr("the order of the settings balanced"));
    const auto index = static_cast<call::TroubleIndex>(front - day.report.troubles.data());
    bool blamed = false;
    for (const auto* change : report::worded_changes(day.report))
      blamed = blamed || std::ranges::count(change->because, index) > 0;
    unmuddled += !blamed && change_of(day, "level", "A", "C").word != Word::muddled ? 1 : 0;
  }
  EXPECT_GE(told, days_that_must_agree);
  EXPECT_GE(unmuddled, days_that_must_agree);
}

TEST(BarrelFront, SteadyWeatherIsNotCalledAFront) {
  auto plan = scenario("S10");
  plan.plan.front.reset();
  for (const auto& day : days_of(plan))
    EXPECT_FALSE(has_trouble(day.report, TroubleCode::weather_balanced)) << day.seed;
}

TEST(BarrelFront, ARepeatedOrderInOneDirectionSaysNothingWrong) {
  const auto days = days_of(front_at(105, {"A", "B", "C", "A", "B", "C"}));
  EXPECT_THAT(wrong_words(days), IsEmpty());
  EXPECT_GE(days_covering(days, "level", "A", "C", 0.0), days_that_must_agree);
}

}  // namespace
}  // namespace pitwright::scenarios
