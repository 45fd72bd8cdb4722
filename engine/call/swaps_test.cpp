#include "call/swaps.h"

#include <algorithm>

#include <gtest/gtest.h>

#include "call/call.h"
#include "call/trial_burn.h"

namespace pitwright::call {
namespace {

constexpr double swapped_s = 4200.0;  // between the second and the third stint

/// The plain recipe with thermometers P2 and P4 swapped at mid-trial; P2 reads `bias_k` too much.
Burn swapped_burn(std::uint64_t seed, double bias_k) {
  auto burn = TrialBurn{}.burn(seed);
  auto &second = burn.probes[1], &fourth = burn.probes[3];
  Probe second_later = second, fourth_later = fourth;
  second_later.spot = fourth.spot;
  fourth_later.spot = second.spot;
  const auto keep = [](Probe& probe, double from_s, double to_s, const Readings& air, double more) {
    probe.readings = {};
    for (std::size_t i = 0; i < air.seconds.size(); ++i) {
      if (air.seconds[i] < from_s || air.seconds[i] >= to_s) continue;
      probe.readings.seconds.push_back(air.seconds[i]);
      probe.readings.values.push_back(air.values[i] + more);
    }
  };
  const Readings at_second = second.readings, at_fourth = fourth.readings;
  keep(second, 0, swapped_s, at_second, bias_k);
  keep(fourth, 0, swapped_s, at_fourth, 0);
  keep(second_later, swapped_s, 1e9, at_fourth, bias_k);
  keep(fourth_later, swapped_s, 1e9, at_second, 0);
  burn.probes.push_back(second_later);
  burn.probes.push_back(fourth_later);
  return burn;
}

std::vector<Trouble> offsets_in(const Burn& burn) {
  const auto report = make_call(burn, {.as_known_at_s = {}, .needs_stints = false});
  std::vector<Trouble> found;
  if (!report) return found;
  for (const auto& trouble : report->troubles)
    if (trouble.code == TroubleCode::probe_offset) found.push_back(trouble);
  return found;
}

TEST(Swaps, TellAThermometersErrorFromItsSpot) {
  for (const double bias_k : {2.5, -2.5}) {
    const auto found = offsets_in(swapped_burn(1, bias_k));
    ASSERT_EQ(found.size(), 1U);
    EXPECT_EQ(found[0].where, bias_k > 0 ? "P2" : "P4");
    EXPECT_EQ(found[0].against, bias_k > 0 ? "P4" : "P2");
    EXPECT_NEAR(found[0].amount, 2.5, 0.5);
  }
}

TEST(Swaps, SayNothingOfThermometersThatAgreeOrStay) {
  EXPECT_TRUE(offsets_in(swapped_burn(1, 0.0)).empty());
  EXPECT_TRUE(offsets_in(TrialBurn{}.burn(1)).empty());
}

TEST(Clocks, KnownTooRoughlyAreSaidAndMuddleNothing) {
  auto burn = TrialBurn{}.burn(1);
  const auto report_with = [&](double uncertainty_s) {
    burn.clock_uncertainty_s = uncertainty_s;
    return *make_call(burn, {.as_known_at_s = {}, .needs_stints = false});
  };
  const auto says = [](const Report& report) {
    return std::ranges::any_of(report.troubles, [](const Trouble& trouble) {
      return trouble.code == TroubleCode::clocks_uncertain;
    });
  };
  const auto good = report_with(20.0), much = report_with(45.0);  // the swing takes 300 s
  EXPECT_FALSE(says(good));
  EXPECT_TRUE(says(much));
  EXPECT_EQ(good.level.changes[0].word, much.level.changes[0].word);
}

TEST(LiveCall, BeforeAnythingCountsHasNoNumbersAndNoWordButNotYet) {
  const auto burn = TrialBurn{.lead_s = 1200.0}.burn(1);
  for (const double now_s : {60.0, 900.0, 1260.0}) {
    const auto report = make_call(burn, {.as_known_at_s = now_s, .needs_stints = false});
    ASSERT_TRUE(report) << now_s;
    ASSERT_FALSE(report->level.changes.empty());
    EXPECT_FALSE(report->level.changes[0].estimate);
    EXPECT_EQ(report->level.changes[0].word, Word::not_yet);
    for (const auto& spot : report->spots)
      EXPECT_FALSE(spot.reading_changes.at(0).estimate) << now_s;
  }
}

TEST(LiveCall, InAPitThatIsStillHeatingIsMuddledNotOpen) {
  TrialBurn cold;
  cold.short_k = 60.0;
  cold.swing_k = 1.0;
  const auto report = make_call(cold.burn(1), {.as_known_at_s = 1800.0, .needs_stints = false});
  ASSERT_TRUE(report);
  EXPECT_EQ(report->stints[0].state, StintState::heating);
  EXPECT_EQ(report->level.changes[0].word, Word::muddled);
}

}  // namespace
}  // namespace pitwright::call
