#include "design/resolve.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "call/call.h"
#include "call/tables.h"
#include "design/design.h"
#include "numeric/random.h"
#include "rehearse/random_pit.h"

namespace pitwright::design {
namespace {

constexpr double matters_k = 10.0 / 1.8;
const std::vector<int> abba = {0, 1, 1, 0};

double middle(std::vector<double> values) {
  std::ranges::sort(values);
  return values[values.size() / 2];
}

double half(const call::Change& change) {
  return 0.5 * (change.estimate->high - change.estimate->low);
}

rehearse::RehearsedBurn random_abba(std::uint64_t number) {
  numeric::Random random(number, 4);
  const auto made = rehearse::random_burn(
      random, {.order = {"A", "B", "B", "A"}, .dwell_s = 2700, .sizes_k = {}});
  return *rehearse::rehearse(made.model, made.kit, made.plan, number);
}

// Made-up pits other than those that the usual scales were read from (another stream of seeds).
TEST(Outlook, HalfWidthsAreWithinAQuarterOfWhatCallsGiveOnRandomPits) {
  std::vector<double> level, run, tilt;
  for (std::uint64_t k = 0; k < 32; ++k) {
    const auto report =
        call::make_call(random_abba(k).burn, {.as_known_at_s = {}, .needs_stints = false});
    level.push_back(half(report->level.changes[0]));
    for (const auto& spot : report->spots) run.push_back(half(spot.runs.changes[0]));
    for (const auto& one : report->tilts) tilt.push_back(half(one.tilt.changes[0]));
  }
  const auto habits = assumed_habits(std::nullopt);
  const Outlook outlook({abba, 2700, false}, habits, matters_k);
  const auto planned = [&](const std::vector<call::Scales>& law, double factor,
                           const std::vector<call::ScalePriors>& priors) {
    return outlook.resolve({law, factor, priors, 1, matters_k}).half_width_k;
  };
  // Six spots at random have a tilt's shares of about 1.2 in all: 4 to 8 spots, two or three axes.
  const double planned_level = planned(habits.level, 1.0, planned_level_priors(habits));
  const double planned_run = planned(habits.spot, std::sqrt(5.0 / 6.0), {call::lay_priors(1.0)});
  const double planned_tilt = planned(habits.tilt[0], 1.2, {call::tilt_priors(1.2)});
  RecordProperty("level", std::to_string(planned_level / middle(level)));
  RecordProperty("run", std::to_string(planned_run / middle(run)));
  RecordProperty("tilt", std::to_string(planned_tilt / middle(tilt)));
  EXPECT_NEAR(planned_level / middle(level), 1.0, 0.25);
  EXPECT_NEAR(planned_run / middle(run), 1.0, 0.25);
  EXPECT_NEAR(planned_tilt / middle(tilt), 1.0, 0.25);
}

TEST(Outlook, OfALearnedPitForetellsTheSameBurn) {
  std::vector<double> level, run;
  for (std::uint64_t k = 100; k < 114; ++k) {
    const auto burn = random_abba(k).burn;
    const auto report = call::make_call(burn, {.as_known_at_s = {}, .needs_stints = false});
    const auto habits = *learned_habits(burn);
    const Outlook outlook({abba, 2700, false}, habits, matters_k);
    const auto n = static_cast<double>(report->spots.size());
    // Half-widths are told at a change of what matters: here, as large as the burn's own.
    const double own_k = std::abs(report->level.changes[0].estimate->value);
    level.push_back(
        outlook.resolve({habits.level, 1.0, planned_level_priors(habits), 1, own_k}).half_width_k /
        half(report->level.changes[0]));
    std::vector<double> runs;
    for (const auto& spot : report->spots) runs.push_back(half(spot.runs.changes[0]));
    run.push_back(
        outlook
            .resolve({habits.spot, std::sqrt(1.0 - 1.0 / n), {call::lay_priors(1.0)}, 1, matters_k})
            .half_width_k /
        middle(runs));
  }
  RecordProperty("learned_level", std::to_string(middle(level)));
  RecordProperty("learned_run", std::to_string(middle(run)));
  EXPECT_NEAR(middle(level), 1.0, 0.15);
  EXPECT_NEAR(middle(run), 1.0, 0.15);
}

// The variance of one change by hand, outside the engine: A B B A, one block of noise a stint,
// independent; (B2 + B3 - A1 - A4) / 2 has noise variance g^2, re-setting variance 1.5 s^2 (the two
// B are one stretch), drift variance q^2 (t2 - t1 + t4 - t3) / 4.
TEST(Outlook, KnownScalesGiveTheVarianceOfTheTextbookContrast) {
  Habits habits = assumed_habits(std::nullopt);
  habits.lag_s = 1e-6;  // settles at once: every block is all of its own setting
  habits.swing = {600.0, 10.0};
  const Outlook outlook({abba, 600, true}, habits, matters_k);
  const auto sd = [&](call::Scales scales) {
    const std::vector<call::Scales> law = {scales};
    return outlook.quick_sd_k({law, 1.0, {}, 1, matters_k});
  };
  EXPECT_NEAR(sd({1e-9, 2.0, 1e-9}), 2.0, 1e-6);
  // Without block noise the best weights are not the plain ones; with much of it they are.
  const double g = 1000.0;
  EXPECT_NEAR(std::pow(sd({1e-9, g, 30.0}), 2) - g * g, 1.5 * 900.0, 1.0);
  EXPECT_NEAR(std::pow(sd({30.0, g, 1e-9}), 2) - g * g, 900.0 * (2.0 / 6.0) / 4.0, 1.0);
}

TEST(Outlook, ChancesOfTheFourWordsSumToOne) {
  const auto habits = assumed_habits(Fuel::wood);
  const Outlook outlook({{0, 1, 1, 0, 0, 1}, 3900, true}, habits, matters_k);
  const auto resolution = outlook.resolve({habits.spot, 0.9, {}, 6, matters_k});
  for (const auto& c : resolution.chances) {
    EXPECT_NEAR(c.clear + c.no_odds + c.too_close + c.not_yet, 1.0, 1e-9);
    EXPECT_GE(std::min({c.clear, c.no_odds, c.too_close, c.not_yet}), 0.0);
  }
}

TEST(Outlook, AWrongClearAtWhatMattersIsRarerThanOneInTwenty) {
  const auto habits = assumed_habits(std::nullopt);
  const std::vector<std::vector<int>> orders = {abba, {0, 1, 1, 0, 0, 1}, {0, 1, 1, 0, 1, 0, 0, 1}};
  for (const auto& order : orders) {
    const Outlook outlook({order, 2100, true}, habits, matters_k);
    for (const auto* law : {&habits.level, &habits.spot}) {
      const auto at_matters = outlook.resolve({*law, 1.0, {}, 1, matters_k}).chances[1];
      EXPECT_LT(at_matters.clear, 0.05);
      EXPECT_LT(at_matters.no_odds, 0.05);
    }
  }
}

TEST(Outlook, MoreStintsAndASmallerErrorTellMore) {
  const auto habits = assumed_habits(std::nullopt);
  const auto width = [&](const std::vector<int>& order, double factor) {
    return Outlook({order, 2100, true}, habits, matters_k)
        .resolve({habits.spot, factor, {}, 6, matters_k})
        .half_width_k;
  };
  EXPECT_LT(width({0, 1, 1, 0, 1, 0, 0, 1}, 1.0), width(abba, 1.0));
  EXPECT_LT(width(abba, 0.7), width(abba, 1.0));
  EXPECT_LT(width(abba, 1.0), width({0, 1}, 1.0));  // nothing repeated
}

TEST(Outlook, TheSameQuestionGetsTheSameBits) {
  const auto habits = assumed_habits(Fuel::pellet);
  const Outlook outlook({abba, 2100, true}, habits, matters_k);
  const Ask ask{habits.level, 1.0, {}, 1, matters_k};
  EXPECT_EQ(outlook.resolve(ask).half_width_k, outlook.resolve(ask).half_width_k);
}

}  // namespace
}  // namespace pitwright::design
