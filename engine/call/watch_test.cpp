#include "call/watch.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include <gtest/gtest.h>

#include "call/trial_burn.h"

namespace pitwright::call {
namespace {

struct Said {
  Word word;
  double low, high;
  bool operator==(const Said&) const = default;
};

/// Everything that carries a word, in the order of the report.
std::vector<Said> words_of(const Report& report) {
  std::vector<Said> all;
  const auto take = [&](const Quantity& quantity) {
    for (const auto& c : quantity.changes) all.push_back({c.word, c.word_low, c.word_high});
  };
  take(report.level);
  for (const auto& spot : report.spots) take(spot.runs);
  for (const auto& tilt : report.tilts) take(tilt.tilt);
  take(report.spread);
  return all;
}

/// Burns whose open stints would like to change the words: a change near what matters, a lid nobody
/// marked in the third stint, a probe that dies in the fourth.
std::vector<Burn> restless_burns() {
  TrialBurn plan;
  plan.dwell_s = 1200.0;
  plan.lag_s = 120.0;
  plan.step_s = 20.0;
  plan.level_change_k = 6.0;
  plan.left_right_change_k = 5.0;
  auto plain = plan.burn(1);
  plan.gust_k = 1.5;
  auto troubled = plan.burn(2);
  for (auto& probe : troubled.probes) {
    auto& [seconds, values] = probe.readings;
    for (std::size_t i = 0; i < seconds.size(); ++i) {
      const double since_s = seconds[i] - 3000.0;
      if (since_s > 0.0)
        values[i] -=
            30.0 * std::min(1.0, since_s / 60.0) * std::exp(-std::max(0.0, since_s - 60.0) / 100.0);
      if (seconds[i] > 3900.0 && &probe == &troubled.probes.back())
        values[i] = std::numeric_limits<double>::quiet_NaN();
    }
  }
  return {std::move(plain), std::move(troubled)};
}

TEST(Watch, ALookAtEveryMinuteNeverDiffersInWordsFromTheLookAtTheLastClose) {
  for (const auto& burn : restless_burns()) {
    Watch watch;
    std::vector<Said> at_close;
    int changed = 0, looks = 0;
    for (double now_s = 60.0; now_s <= burn.last_s() + 300.0; now_s += 60.0, ++looks) {
      const bool is_close =
          std::ranges::any_of(burn.stints, [=](const Stint& stint) { return stint.to_s == now_s; });
      const auto report = watch.look(burn, now_s, false);
      ASSERT_TRUE(report) << now_s;
      const auto words = words_of(*report);
      if (is_close) {
        // Made from nothing, by someone who looks here for the first time.
        const auto fresh = make_call(burn, {.as_known_at_s = now_s, .needs_stints = false});
        changed += words_of(*fresh) != at_close ? 1 : 0;
        at_close = words_of(*fresh);
      }
      if (!at_close.empty()) {
        EXPECT_EQ(words, at_close) << now_s / 60.0;
      }
    }
    EXPECT_GE(looks, 80);
    EXPECT_GE(changed, 3);  // words do change, at closes
  }
}

TEST(Watch, ALookIsTheSameWhateverWasLookedAtBefore) {
  const auto burn = restless_burns()[1];
  Watch watch;
  for (const double now_s : {2000.0, 3300.0, 4300.0, 2000.0}) {
    const auto kept = watch.look(burn, now_s, false);
    const auto fresh = make_call(burn, {.as_known_at_s = now_s, .needs_stints = false});
    ASSERT_TRUE(kept && fresh);
    EXPECT_EQ(words_of(*kept), words_of(*fresh)) << now_s;
    ASSERT_EQ(kept->level.changes[0].estimate.has_value(),
              fresh->level.changes[0].estimate.has_value());
    if (kept->level.changes[0].estimate) {
      EXPECT_EQ(kept->level.changes[0].estimate->low, fresh->level.changes[0].estimate->low);
    }
    EXPECT_EQ(kept->troubles.size(), fresh->troubles.size());
  }
}

TEST(Watch, ReadingsMendedAfterTheCloseAreReadAgain) {
  auto burn = restless_burns()[0];
  Watch watch;
  const double now_s = 3000.0;
  const auto before = watch.look(burn, now_s, false);
  for (auto& probe : burn.probes)
    for (std::size_t i = 0; i < probe.readings.seconds.size(); ++i)
      if (probe.readings.seconds[i] >= 1200.0) probe.readings.values[i] += 20.0;
  const auto after = watch.look(burn, now_s, false);
  ASSERT_TRUE(before && after);
  EXPECT_GT(after->level.changes[0].word_high, before->level.changes[0].word_high + 10.0);
}

TEST(Watch, TheValueItselfFollowsEveryLook) {
  const auto burn = restless_burns()[0];
  Watch watch;
  const auto early = watch.look(burn, 3000.0, false), late = watch.look(burn, 3500.0, false);
  ASSERT_TRUE(early && late);
  EXPECT_NE(early->level.changes[0].estimate->value, late->level.changes[0].estimate->value);
}

/// Unlit for `unlit_s`, then climbing to heat; the first stint begins after two hours.
Burn lit_late(double unlit_s) {
  TrialBurn plan;
  plan.lead_s = 7200.0;
  plan.order = {"A", "B"};
  auto burn = plan.burn(1);
  for (auto& probe : burn.probes) {
    auto& [seconds, values] = probe.readings;
    for (std::size_t i = 0; i < seconds.size(); ++i) {
      const double cold_c = 18.0 + 0.02 * (values[i] - 125.0);
      const double lit = -std::expm1(-std::max(0.0, seconds[i] - unlit_s) / 600.0);
      values[i] = cold_c + lit * (values[i] - cold_c);
    }
  }
  return burn;
}

TEST(LiveCall, AnUnlitPitIsHeatingNotSoaked) {
  const auto burn = lit_late(2400.0);
  Watch watch;
  for (const double now_s : {300.0, 1200.0, 2400.0, 2700.0, 3600.0}) {  // unlit, lit, climbing
    const auto report = watch.look(burn, now_s, false);
    ASSERT_TRUE(report && report->live) << now_s;
    EXPECT_FALSE(report->live->soaked) << now_s;
    EXPECT_EQ(report->live->state, StintState::heating) << now_s;
    EXPECT_FALSE(report->live->change_at_s) << now_s;
  }
  const auto ready = watch.look(burn, 7190.0, false);  // ten lags later
  ASSERT_TRUE(ready && ready->live);
  EXPECT_TRUE(ready->live->soaked);
}

TEST(LiveCall, ALogThatStartsInAHotPitBeforeTheFirstStintIsSoaked) {
  const auto burn = TrialBurn{.lead_s = 3600.0}.burn(1);
  const auto report = Watch().look(burn, 3000.0, false);
  ASSERT_TRUE(report && report->live);
  EXPECT_TRUE(report->live->soaked);
}

}  // namespace
}  // namespace pitwright::call
