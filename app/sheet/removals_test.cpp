#include "sheet/removals.h"

#include <cmath>

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "call/call.h"
#include "call/trial_burn.h"

namespace pitwright::sheet {
namespace {

using call::Change;
using call::Estimate;

Burn practice_burn(std::vector<std::string> order) {
  call::TrialBurn plan;
  plan.order = std::move(order);
  plan.runs_k = {4, 1, -2, -3};
  plan.left_right_change_k = 8.0;
  return plan.burn(3);
}

/// A digest that changes with any number or word of the level and the spots.
std::string digest(const call::Report& report) {
  std::string text;
  const auto add = [&](const call::Quantity& quantity) {
    for (const auto& change : quantity.changes)
      text +=
          fmt::format("{}>{} {} {} {} {}\n", report.settings[static_cast<std::size_t>(change.from)],
                      report.settings[static_cast<std::size_t>(change.to)],
                      change.estimate ? change.estimate->value : NAN, change.word_low,
                      change.word_high, name_of(change.word));
  };
  add(report.level);
  add(report.spread);
  for (const auto& spot : report.spots) add(spot.runs);
  return text;
}

TEST(SingleRemovals, AreEverySpotThenEveryStintInOrder) {
  const auto burn = practice_burn({"A", "B", "B", "A"});
  std::vector<std::string> told;
  for (const auto& removal : single_removals(burn))
    told.push_back(removal.kind == Removal::Kind::spot ? removal.spot
                                                       : fmt::format("{}", removal.stint));
  EXPECT_THAT(told, testing::ElementsAre("P1", "P2", "P3", "P4", "0", "1", "2", "3"));
}

TEST(SingleRemovals, AreWhatTheEngineSaysOfTheBurnThatIsLeft) {
  const auto burn = practice_burn({"A", "B", "B", "A"});
  auto left = burn;
  std::erase_if(left.probes, [](const Probe& probe) { return probe.spot == "P2"; });
  const auto alone = call::make_call(left);
  ASSERT_TRUE(alone);
  const auto all = single_removals(burn);
  ASSERT_TRUE(all[1].report);
  EXPECT_EQ(digest(*all[1].report), digest(*alone));
  EXPECT_EQ(all[1].report->spots.size(), 3U);
  EXPECT_NE(digest(*all[0].report), digest(*alone));
}

TEST(SingleRemovals, KeepTheOrderOfSettingsAndTheNumbersOfStints) {
  const auto burn = practice_burn({"A", "B", "B", "A"});
  const auto all = single_removals(burn);
  const auto& first = all[4];  // without stint 0 the burn begins with B
  ASSERT_TRUE(first.report);
  EXPECT_THAT(first.report->settings, testing::ElementsAre("A", "B"));
  std::vector<int> numbers;
  for (const auto& stint : first.report->stints) numbers.push_back(stint.index);
  EXPECT_THAT(numbers, testing::ElementsAre(1, 2, 3));
  const auto turned = call::make_call(without_stint(burn, 0));
  ASSERT_TRUE(turned);
  ASSERT_THAT(turned->settings, testing::ElementsAre("B", "A"));
  const auto& ours = first.report->level.changes.front();
  const auto& theirs = turned->level.changes.front();
  EXPECT_EQ(ours.from, 0);
  EXPECT_DOUBLE_EQ(ours.estimate->value, -theirs.estimate->value);
  EXPECT_DOUBLE_EQ(ours.estimate->low, -theirs.estimate->high);
  EXPECT_DOUBLE_EQ(ours.word_high, -theirs.word_low);
  EXPECT_EQ(ours.word, theirs.word);
}

TEST(SingleRemovals, OfOneSpotAndOneStintAreNone) {
  auto burn = practice_burn({"A"});
  burn.probes.resize(1);
  EXPECT_TRUE(single_removals(burn).empty());
}

TEST(SingleRemovals, TakeBothThermometersOfASpot) {
  auto burn = practice_burn({"A", "B", "B", "A"});
  burn.probes[1].spot = "P1";
  const auto left = without_spot(burn, "P1");
  EXPECT_EQ(left.probes.size(), 2U);
}

TEST(InOrderOf, TurnsRoundOnlyWhatThenRunsBackward) {
  call::Report report;
  report.settings = {"C", "A", "B"};
  report.level.by_setting = {
      {0, Estimate{3, 2, 4}, 0.0}, {1, Estimate{1, 0, 2}, 0.0}, {2, Estimate{2, 1, 3}, 0.0}};
  const auto add = [&](int from, int to, const Estimate& estimate, double low, double high) {
    Change change{};
    change.from = from;
    change.to = to;
    change.estimate = estimate;
    change.word_low = low;
    change.word_high = high;
    report.level.changes.push_back(change);
  };
  add(0, 1, {-2, -3, -1}, -4, 0);
  add(0, 2, {-1, -2, 0}, -3, 1);
  add(1, 2, {1, 0, 2}, -1, 3);
  const auto ordered = in_order_of(report, {"A", "B", "C"});
  EXPECT_THAT(ordered.settings, testing::ElementsAre("A", "B", "C"));
  EXPECT_EQ(ordered.level.by_setting.front().estimate->value, 1);
  const auto& changes = ordered.level.changes;
  EXPECT_EQ(changes[0].estimate->value, 1);  // A to B as it was
  EXPECT_EQ(changes[1].estimate->value, 2);  // A to C turned round
  EXPECT_EQ(changes[1].estimate->low, 1);
  EXPECT_EQ(changes[1].word_low, 0);
  EXPECT_EQ(changes[1].word_high, 4);
  EXPECT_EQ(changes[2].to, 2);
}

}  // namespace
}  // namespace pitwright::sheet
