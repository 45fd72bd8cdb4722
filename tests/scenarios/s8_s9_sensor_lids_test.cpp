// S8: a fouled control sensor. S9: a lid opened twice, unmarked.

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "call/call.h"
#include "report/call_view.h"
#include "report/trouble_words.h"
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

// Truth: the display holds 250, the chamber is at 274 before and at 255 after.
TEST(FouledSensor, ACookByTheOldDialIsToldAsACookAtTheAirItHad) {
  for (const auto& order : {std::vector<std::string>{}, {"fouled", "clean", "clean", "fouled"}}) {
    int told = 0, clear = 0;
    for (const auto& day : days_of(scenario("S8", order))) {
      const bool is_clear = change_of(day, "dial gap", "fouled", "clean").word == Word::clear;
      const auto text = sentence_of(day);
      const auto meanings = report::dial_meanings(day.report);
      EXPECT_EQ(text.find("A cook with ") != std::string::npos, is_clear) << day.seed;
      EXPECT_EQ(meanings.size(), is_clear ? 2u : 0u) << day.seed;
      if (!is_clear) continue;
      ++clear;
      const double dial_f = meanings[0].dial_c * 1.8 + 32.0;
      const auto& air = meanings[0].air_c;
      told += std::abs(dial_f - 250.0) < 3.0 && air.low * 1.8 + 32.0 <= 274.0 &&
                      274.0 <= air.high * 1.8 + 32.0
                  ? 1
                  : 0;
    }
    EXPECT_GE(told, 0.8 * clear);
    if (!order.empty()) {
      EXPECT_GE(clear, days_that_must_agree);
    }
  }
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

// The plan: 75 s open in the third stint; 3 min open in the fifth, cold pans put in on the left.
TEST(TwinShelf, TellsForEverySpotHowLongItTookAndSpoilsTheFifthStintForTheLeftOnly) {
  const auto days = days_of(scenario("S9"));
  int short_told = 0, left_told = 0, others_quick = 0, no_slow_before = 0, text_told = 0;
  for (const auto& day : days) {
    if (day.report.lids.size() != 2) continue;
    const auto& brief = day.report.lids[0];
    const auto& pans = day.report.lids[1];
    ASSERT_EQ(brief.spots.size(), 8u);
    ASSERT_EQ(pans.spots.size(), 8u);
    int in_time = 0, slow_left = 0, right_back = 0, slow = 0;
    for (std::size_t i = 0; i < 8; ++i) {
      const bool is_left = day.report.spots[i].spot[1] % 2 == 1;  // L1 L3 U1 U3
      const double back_s = brief.spots[i].back_s.value_or(1e9);
      in_time += back_s >= 120.0 && back_s <= 360.0 ? 1 : 0;
      slow += brief.spots[i].is_slow ? 1 : 0;
      slow_left +=
          is_left && pans.spots[i].is_slow && pans.spots[i].back_s.value_or(1e9) > 14 * 60.0 ? 1
                                                                                             : 0;
      right_back +=
          !is_left && pans.spots[i].back_s.value_or(1e9) <= 14 * 60.0 && !pans.spots[i].is_slow ? 1
                                                                                                : 0;
    }
    short_told += in_time >= 7 ? 1 : 0;
    no_slow_before += slow == 0 ? 1 : 0;
    left_told += slow_left >= 3 ? 1 : 0;
    others_quick += right_back == 4 ? 1 : 0;
    const auto* spoiled = trouble(day.report, TroubleCode::lid_one_sided);
    text_told += spoiled != nullptr && spoiled->stint == 4 &&
                         report::trouble_text(*spoiled, day.made.burn, Scale::fahrenheit)
                                 .find(
                                     "stint 5 (A) is spoiled for the left side (L1, L3, U1, U3) "
                                     "only") != std::string::npos
                     ? 1
                     : 0;
  }
  EXPECT_GE(short_told, days_that_must_agree);
  EXPECT_GE(no_slow_before, days_that_must_agree);
  EXPECT_GE(left_told, days_that_must_agree);
  EXPECT_GE(others_quick, days_that_must_agree);
  EXPECT_GE(text_told, days_that_must_agree);
}

TEST(TwinShelf, WhatTheLeftWeighsInGoesWithoutTheFifthStintAndTheRestCounts) {
  const auto line_of = [](const Day& day, const std::string& head) {
    for (const auto& line : day.report.explain)
      if (line.starts_with(head)) return line;
    return std::string();
  };
  // "runs of L1: 18 of 26 blocks in 4 stretches; ..."
  const auto is_whole = [](const std::string& line) {
    const auto at = line.find(": ") + 2;
    const auto of = line.find(" of ", at);
    return std::stoi(line.substr(at)) == std::stoi(line.substr(of + 4));
  };
  int kept_apart = 0;
  for (const auto& day : days_of(scenario("S9"))) {
    if (!has_trouble(day.report, TroubleCode::lid_one_sided)) continue;
    kept_apart += !is_whole(line_of(day, "runs of L1: ")) &&
                          !is_whole(line_of(day, "tilt left-right: ")) &&
                          is_whole(line_of(day, "tilt front-back: ")) &&
                          change_of(day, "left-right", "A", "B").word != Word::muddled
                      ? 1
                      : 0;
  }
  EXPECT_GE(kept_apart, days_that_must_agree);
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
