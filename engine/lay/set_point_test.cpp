#include "lay/set_point.h"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "lay/practice_lay.h"

namespace pitwright::lay {
namespace {

bool has(const SetPointFor& answer, DialNote note) {
  return std::ranges::find(answer.notes, note) != answer.notes.end();
}

// Source: ASTM E145: a place keeps its share of the rise over ambient. Worked by hand: dialed 120
// at 20 outside, the place has 110: r = 0.9. For 128 at 20 outside, 20 + 108 / 0.9 = 140.
TEST(SetPoint, FollowsTheRatioOfTheRise) {
  const std::vector<Dialed> evidence(40, {120.0, 20.0, 110.0, 0.1});
  const auto answer = set_point_for(128.0, 20.0, evidence).value();
  EXPECT_NEAR(answer.set_c.value, 140.0, 0.5);  // the prior of a departure takes a little
  EXPECT_LT(answer.set_c.low, 140.0);
  EXPECT_GT(answer.set_c.high, 140.0);
  EXPECT_NEAR(answer.ratio.value, 0.9, 0.005);
  EXPECT_NEAR(answer.per_outside_k, 1.0 / 0.9 - 1.0, 0.01);
  EXPECT_TRUE(has(answer, DialNote::one_set_point));
}

TEST(SetPoint, ColderOutsideAsksForMoreWherethePlaceRunsCool) {
  const std::vector<Dialed> cool{{120.0, 20.0, 110.0, 0.5}}, warm{{120.0, 20.0, 130.0, 0.5}};
  const auto shift = [](const std::vector<Dialed>& evidence) {
    return set_point_for(115.0, 0.0, evidence)->set_c.value -
           set_point_for(115.0, 20.0, evidence)->set_c.value;
  };
  EXPECT_GT(shift(cool), 0.5);
  EXPECT_LT(shift(warm), -0.5);
  const auto answer = set_point_for(115.0, 20.0, cool).value();
  EXPECT_NEAR(shift(cool), 20.0 * answer.per_outside_k, 1e-6);
}

TEST(SetPoint, TwoSetPointsNarrowTheAnswerBetweenThem) {
  const std::vector<Dialed> one{{110.0, 20.0, 104.0, 0.5}};
  const std::vector<Dialed> two{{110.0, 20.0, 104.0, 0.5}, {150.0, 20.0, 141.0, 0.5}};
  const auto a = set_point_for(125.0, 20.0, one).value(),
             b = set_point_for(125.0, 20.0, two).value();
  EXPECT_LT(b.set_c.high - b.set_c.low, a.set_c.high - a.set_c.low);
  EXPECT_FALSE(has(b, DialNote::one_set_point));
  EXPECT_GT(b.set_c.value, 125.0);
  EXPECT_LT(b.set_c.value, 140.0);
  EXPECT_TRUE(has(set_point_for(200.0, 20.0, two).value(), DialNote::far_from_tried));
}

TEST(SetPoint, UnknownOutsideAirWidensAndSaysSo) {
  const std::vector<Dialed> known{{120.0, 15.0, 100.0, 0.5}}, unknown{{120.0, {}, 100.0, 0.5}};
  const auto a = set_point_for(110.0, 15.0, known).value();
  const auto b = set_point_for(110.0, std::nullopt, unknown).value();
  EXPECT_TRUE(has(b, DialNote::outside_assumed));
  EXPECT_TRUE(has(b, DialNote::today_assumed));
  EXPECT_GT(b.set_c.high - b.set_c.low, a.set_c.high - a.set_c.low);
}

TEST(SetPoint, RefusesWhatCannotBeInWords) {
  EXPECT_FALSE(set_point_for(110.0, 20.0, {}));
  EXPECT_FALSE(set_point_for(15.0, 20.0, {{120.0, 20.0, 110.0, 0.5}}));
  const auto cold = set_point_for(110.0, 20.0, {{120.0, 20.0, 18.0, 0.5}});
  ASSERT_FALSE(cold);
  EXPECT_NE(cold.error().what.find("outside air"), std::string::npos);
}

TEST(SetPoint, TakesItsEvidenceFromALay) {
  const auto lay = make_lay(practice_pit(), practice_runs(), {.nodes_x = 4, .nodes_y = 3}).value();
  const Patch patch{0.4, 0.6, 0.2, 0.3, 0.15};
  const auto evidence = dialed(lay, patch, 0, 121.0, 18.0);
  ASSERT_TRUE(evidence);
  EXPECT_NEAR(evidence->place_c, over(lay, patch)[0].celsius, 1e-12);
  EXPECT_FALSE(dialed(lay, patch, 0, std::nullopt, 18.0));
  const auto answer = set_point_for(evidence->place_c, 18.0, {*evidence}).value();
  EXPECT_NEAR(answer.set_c.value, 121.0, 1.5);
}

}  // namespace
}  // namespace pitwright::lay
