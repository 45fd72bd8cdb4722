// S7: a gas tray whose probes are the trouble.

#include <cmath>
#include <limits>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "call/call.h"
#include "scenarios/days.h"

namespace pitwright::scenarios {
namespace {

using call::TroubleCode;
using testing::HasSubstr;
using testing::IsEmpty;

TEST(GasTray, FindsEveryBadProbeAndCallsNothingWrong) {
  const auto days = days_of(scenario("S7"));
  EXPECT_THAT(wrong_words(days), IsEmpty());
  for (const auto& day : days) {
    const auto* touching = trouble(day.report, TroubleCode::probe_touching);
    ASSERT_NE(touching, nullptr) << day.seed;
    EXPECT_EQ(touching->where, "P3");
    EXPECT_NEAR(touching->amount, 0.35, 0.1) << day.seed;
    const auto* frozen = trouble(day.report, TroubleCode::probe_frozen, "P1");
    ASSERT_NE(frozen, nullptr) << day.seed;
    EXPECT_NEAR(frozen->amount, 480.0, 30.0) << day.seed;
    const auto* missing = trouble(day.report, TroubleCode::probe_missing, "P5");
    ASSERT_NE(missing, nullptr) << day.seed;
    EXPECT_NEAR(missing->amount, 1020.0, 30.0) << day.seed;  // blank, -999 and "LLL" alike
  }
}

TEST(GasTray, TheSwapTellsTheThermometerFromTheSpot) {
  int right = 0;
  for (const auto& day : days_of(scenario("S7"))) {
    const auto* offset = trouble(day.report, TroubleCode::probe_offset, "P2");
    if (offset == nullptr) continue;
    EXPECT_EQ(offset->against, "P4") << day.seed;
    right += std::abs(1.8 * offset->amount - 5.0) <= 1.0 ? 1 : 0;
  }
  EXPECT_GE(right, days_that_must_agree);
}

TEST(GasTray, WithoutABiasASwapAccusesNobody) {
  auto honest = scenario("S7");
  honest.kit.loggers[0].thermometers[1].bias_k = 0.0;
  int accused = 0;
  for (const auto& day : days_of(honest))
    accused += has_trouble(day.report, TroubleCode::probe_offset);
  EXPECT_LE(accused, 2);
}

TEST(MissingHotSpot, DoesNotCoolTheOthers) {
  // Four spots, the hottest +12 above the level of all; it drops out for the third stint.
  auto four = scenario("S4");
  for (auto& target : four.targets) target.run_k = rehearse::in_kelvins({12, -2, -4, -6});
  rehearse::aim(four.model, four.targets);
  for (int seed = 1; seed <= 10; ++seed) {
    auto made = rehearse::rehearse(four, static_cast<std::uint64_t>(seed), {false});
    ASSERT_TRUE(made);
    const auto whole = call::make_call(made->burn);
    auto& readings = made->burn.probes[0].readings;
    for (std::size_t i = 0; i < readings.seconds.size(); ++i)
      if (readings.seconds[i] >= 5400 && readings.seconds[i] < 8100)
        readings.values[i] = std::numeric_limits<double>::quiet_NaN();
    const auto gap = call::make_call(made->burn);
    ASSERT_TRUE(whole && gap);
    for (std::size_t i = 1; i < 4; ++i) {
      const auto &before = whole->spots[i].runs.changes[0], &after = gap->spots[i].runs.changes[0];
      ASSERT_TRUE(before.estimate && after.estimate);
      EXPECT_NEAR(1.8 * after.estimate->value, 1.8 * before.estimate->value, 4.0) << seed;
    }
  }
}

}  // namespace
}  // namespace pitwright::scenarios
