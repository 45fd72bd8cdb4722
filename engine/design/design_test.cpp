#include "design/design.h"

#include <algorithm>
#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace pitwright::design {
namespace {

using testing::HasSubstr;

Pit barrel() {
  Pit pit;
  pit.name = "Barrel";
  pit.width_m = 0.9;
  pit.depth_m = 0.45;
  pit.set_point = degF(250);
  pit.grates = {{"lower", 0.15}, {"upper", 0.35}};
  return pit;
}

Result<Design> design(const Wishes& wishes, const Pit& pit = barrel()) {
  return make_design(pit, wishes, assumed_habits(wishes.fuel));
}

std::vector<Plan> plans(const Wishes& wishes) {
  return design(wishes)->plans;
}

std::string complaint(const Wishes& wishes) {
  const auto made = design(wishes);
  if (made) return "no complaint";
  EXPECT_EQ(made.error().kind, ErrorKind::bad_input);
  return made.error().what;
}

TEST(Design, PutsThreePlansSideBySideTheShortestFirst) {
  const auto made = *design({});
  ASSERT_EQ(made.plans.size(), 3u);
  for (std::size_t k = 1; k < made.plans.size(); ++k) {
    EXPECT_GT(made.plans[k].burn_s, made.plans[k - 1].burn_s);
    EXPECT_LT(made.plans[k].run->half_width_k, made.plans[k - 1].run->half_width_k);
  }
}

TEST(Design, RecommendsTheShortestPlanThatSettlesTheQuestion) {
  const auto made = *design({});
  const auto& chosen = made.plans[static_cast<std::size_t>(made.recommended)];
  const auto first = std::ranges::find_if(made.plans, [](const Plan& p) { return p.settles; });
  if (first != made.plans.end()) {
    EXPECT_EQ(&*first, &chosen);
  } else {
    EXPECT_FALSE(chosen.settles);
  }
  Wishes coarse;
  coarse.matters = TemperatureDelta::from_fahrenheit_degrees(60);
  const auto easy = *design(coarse);
  EXPECT_EQ(easy.recommended, 0);
  EXPECT_TRUE(easy.plans[0].settles);
  Wishes fine;
  fine.matters = TemperatureDelta::from_fahrenheit_degrees(1);
  EXPECT_FALSE(std::ranges::any_of(plans(fine), &Plan::settles));
}

TEST(Design, TheLayIsSharperThanTheLevelOfAFireThatSwings) {
  Wishes wishes;
  wishes.fuel = Fuel::wood;
  for (const auto& plan : plans(wishes))
    EXPECT_LT(1.3 * plan.run->half_width_k, plan.level.half_width_k);
}

TEST(Design, KeepsToTheHoursAndLeavesOutWhatDoesNotFit) {
  Wishes wishes;
  wishes.within_s = 4.0 * 3600.0;
  const auto made = *design(wishes);
  EXPECT_GT(made.left_out, 0);
  for (const auto& plan : made.plans) EXPECT_LE(plan.burn_s, *wishes.within_s + 1.0);
  EXPECT_EQ(made.left_out + std::ssize(made.plans), 3);
}

TEST(Design, HoursAreSoakAndStints) {
  Wishes wishes;
  wishes.soak_s = 5400.0;
  for (const auto& plan : plans(wishes)) {
    EXPECT_DOUBLE_EQ(plan.burn_s, 5400.0 + plan.dwell_s * static_cast<double>(plan.order.size()));
    EXPECT_DOUBLE_EQ(plan.settling_s + plan.counted_s, plan.dwell_s);
  }
}

// 250 degF pellets: 1 to 1.5 lb/h, plus a quarter (rule of thumb; common practice, no source).
TEST(Design, FuelIsRateTimesHoursAndAQuarter) {
  const auto need = fuel_need(Fuel::pellet, degF(250), 4.0);
  EXPECT_NEAR(need.low_kg, 5.0 * 0.45359237, 1e-12);
  EXPECT_NEAR(need.high_kg, 7.5 * 0.45359237, 1e-12);
  Wishes wishes;
  EXPECT_FALSE(plans(wishes)[0].fuel);
  wishes.fuel = Fuel::charcoal;
  EXPECT_TRUE(plans(wishes)[0].fuel);
}

TEST(Design, ThreeSettingsGoThereAndBack) {
  Wishes wishes;
  wishes.settings = {"low", "mid", "high"};
  const auto made = *design(wishes);
  EXPECT_EQ(made.plans[0].order, (std::vector{0, 1, 2, 2, 1, 0}));
}

TEST(Design, OneProbeAnswersForTheLevelOnly) {
  Wishes wishes;
  wishes.probes = 1;
  wishes.question = Question::level;
  const auto made = *design(wishes);
  EXPECT_FALSE(made.plans[0].run);
  EXPECT_TRUE(made.plans[0].tilts.empty());
  wishes.question = Question::lay;
  EXPECT_THAT(complaint(wishes), HasSubstr("one probe shows no lay"));
}

TEST(Design, WorksOnAPitOfWhichNothingIsKnown) {
  const auto made = design({}, Pit{});
  ASSERT_TRUE(made.has_value());
  EXPECT_FALSE(made->plans.empty());
  EXPECT_FALSE(made->spots.missing.empty());
}

TEST(Design, ComplainsOfWhatCannotBePlanned) {
  Wishes wishes;
  wishes.probes = 0;
  EXPECT_THAT(complaint(wishes), HasSubstr("0 probes"));
  wishes.probes = 51;
  EXPECT_THAT(complaint(wishes), HasSubstr("50 at most"));
  wishes = {};
  wishes.settings = {"A"};
  EXPECT_THAT(complaint(wishes), HasSubstr("two or more"));
  wishes.settings = {"A", "B", "C", "D", "E", "F", "G"};
  EXPECT_THAT(complaint(wishes), HasSubstr("7 settings are too many"));
  wishes.settings = {"A", "A"};
  EXPECT_THAT(complaint(wishes), HasSubstr("'A' stands twice"));
  wishes.settings = {"A", ""};
  EXPECT_THAT(complaint(wishes), HasSubstr("no name"));
  wishes = {};
  wishes.within_s = 3600.0;
  EXPECT_THAT(complaint(wishes), HasSubstr("the shortest plan takes"));
  wishes.within_s = -1.0;
  EXPECT_THAT(complaint(wishes), HasSubstr("hours"));
  wishes = {};
  wishes.matters = TemperatureDelta::from_kelvins(0);
  EXPECT_THAT(complaint(wishes), HasSubstr("matters"));
  wishes = {};
  wishes.soak_s = std::nan("");
  EXPECT_THAT(complaint(wishes), HasSubstr("soak"));
}

TEST(Habits, OfABurnWithoutAReadingAreNotLearned) {
  const auto learned = learned_habits(Burn{});
  ASSERT_FALSE(learned.has_value());
  EXPECT_EQ(learned.error().kind, ErrorKind::bad_input);
}

}  // namespace
}  // namespace pitwright::design
