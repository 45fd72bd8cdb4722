#include "rehearse/random_pit.h"

#include <array>
#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "rehearse/burning.h"

namespace pitwright::rehearse {
namespace {

TEST(RandomBurn, HitsTheEffectsItWasGiven) {
  numeric::Random random(21);
  int met = 0;
  for (int i = 0; i < 30; ++i) {
    const auto burn = random_burn(random, {{"A", "B", "B", "A"}, 2700, {0.0, 10 / 1.8, 20 / 1.8}});
    met += burn.aimed.met ? 1 : 0;
    EXPECT_LT(burn.aimed.worst_k, 0.1) << i;
    const auto truth = truth_of(burn.model);
    const double change = truth.at("B").level_c - truth.at("A").level_c;
    const double nearest = std::round(std::abs(change) / (10 / 1.8)) * 10 / 1.8;
    EXPECT_NEAR(std::abs(change), nearest, 2 * std::max(0.01, burn.aimed.worst_k));
  }
  EXPECT_GE(met, 28);
}

TEST(RandomBurn, APitThatCannotReachItsEffectsIsDrawnAnew) {
  // In this stream, burn 270 asks a thermostat for a level below what its idling feed gives.
  numeric::Random random(11);
  const RandomDesign design{{"A", "B", "B", "A"}, 2700, {0, 10 / 1.8, 8 / 1.8, 12 / 1.8, 20 / 1.8}};
  for (int i = 0; i <= 270; ++i) EXPECT_LT(random_burn(random, design).aimed.worst_k, 0.1) << i;
}

TEST(RandomBurn, PitsCoverTheFiresAndTheSwings) {
  numeric::Random random(5);
  std::array<int, 5> kinds{};
  int none = 0, quick = 0, slow = 0;
  for (int i = 0; i < 120; ++i) {
    const auto model = random_pit(random, {"A"});
    ++kinds[static_cast<std::size_t>(model.fire.kind)];
    const auto swing = truth_at(model, model.settings[0]).swing;
    const double period_s = swing.period_s.value_or(0);
    none += swing.size_k < 0.5 ? 1 : 0;
    quick += swing.size_k >= 0.5 && period_s < 420 ? 1 : 0;
    slow += swing.size_k >= 0.5 && period_s > 900 ? 1 : 0;
    EXPECT_LT(period_s, 1260);
    EXPECT_LT(swing.size_k, 32);
  }
  for (const int count : kinds) EXPECT_GE(count, 2);
  EXPECT_GE(none, 10);
  EXPECT_GE(quick, 10);
  EXPECT_GE(slow, 10);
}

/// Mean of each spot over ten calm hours after fifteen of soak, weighted by a raised cosine so that
/// broken swings at the ends do not count.
std::vector<double> slow_spots_c(const PitModel& model, const Setting& setting) {
  Burning pit(model, nullptr);
  apply_calm(model, pit.inputs());
  pit.use(setting);
  pit.start_soaked(0);
  constexpr int soak = 27000, count = 18000;
  std::vector<double> mean(model.spots.size(), 0.0);
  for (int i = 0; i < soak + count; ++i) {
    pit.tick(i * tick_s);
    if (i < soak) continue;
    const double weight = (1 - std::cos(2 * std::numbers::pi * (i - soak + 0.5) / count)) / count;
    for (std::size_t s = 0; s < mean.size(); ++s)
      mean[s] += weight * pit.spot_c(static_cast<int>(s));
  }
  return mean;
}

TEST(RandomBurn, TruthOfChangesAgreesWithVeryLongRuns) {
  numeric::Random random(77);
  for (int i = 0; i < 25; ++i) {
    const auto burn = random_burn(random, {{"A", "B"}, 2700});
    const auto a = slow_spots_c(burn.model, burn.model.settings[0]);
    const auto b = slow_spots_c(burn.model, burn.model.settings[1]);
    const auto truth = truth_of(burn.model);
    for (std::size_t s = 0; s < a.size(); ++s) {
      const double change = truth.settings[1].spot_c[s] - truth.settings[0].spot_c[s];
      // What the shortened soak may leave of swings up to 20 K: a tenth of a degF.
      EXPECT_NEAR(change, b[s] - a[s], 0.1 / 1.8)
          << "pit " << i << ", fire " << static_cast<int>(burn.model.fire.kind);
    }
  }
}

}  // namespace
}  // namespace pitwright::rehearse
