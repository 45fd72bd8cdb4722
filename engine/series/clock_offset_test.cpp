#include "series/clock_offset.h"

#include <cmath>
#include <numbers>
#include <vector>

#include <gtest/gtest.h>

#include "numeric/random.h"

namespace pitwright::series {
namespace {

/// What a probe with a lag of 33 s shows of a chamber's air every second, degF: a cycle whose
/// length wanders, gusts, one lid opening.
std::vector<double> made_up_air(int seconds, std::uint64_t seed, double wander, double gust_sd,
                                bool lid) {
  numeric::Random random(seed);
  std::vector<double> air;
  double phase = 0.0;
  double pace = 1.0;
  double gust = 0.0;
  double shown = 250.0;
  for (int s = 0; s < seconds; ++s) {
    pace += (1.0 - pace) / 900.0 + wander * random.normal() * std::sqrt(2.0 / 900.0);
    phase += 2.0 * std::numbers::pi / 480.0 * pace;
    gust += -gust / 300.0 + gust_sd * random.normal() * std::sqrt(2.0 / 300.0);
    const double since_lid = s - 0.4 * seconds;
    const double dip = lid && since_lid > 0.0 ? -60.0 * std::exp(-since_lid / 240.0) : 0.0;
    shown += (250.0 + 7.0 * std::sin(phase) + gust + dip - shown) / 33.0;
    air.push_back(shown);
  }
  return air;
}

struct Logged {
  std::vector<double> seconds, values;
  ClockedChannel channel() const { return {seconds, values}; }
};

/// A logger: its stamps run ahead by `ahead_s` at the start and gain `drift_s_per_h`.
Logged logged(const std::vector<double>& air, double every_s, double ahead_s, double drift_s_per_h,
              double step, double noise, std::uint64_t seed, bool celsius) {
  numeric::Random random(seed);
  Logged log;
  for (double s = 0.0; s < static_cast<double>(air.size()) - 1.0; s += every_s) {
    double value = air[static_cast<std::size_t>(s)] + noise * random.normal();
    if (celsius) value = (value - 32.0) / 1.8 + 1.5;  // a twin beside it, 1.5 degC off
    log.seconds.push_back(s + ahead_s + drift_s_per_h * s / 3600.0);
    log.values.push_back(step > 0.0 ? std::round(value / step) * step : value);
  }
  return log;
}

// Scenario of our own: two loggers, degF every 10 s against degC in steps of 0.5 every 60 s, 440 s
// and one hour ahead, gaining 4 s/h. The truth is the one the logs were made with.
TEST(ClockOffset, IsFoundBetweenUnlikeLoggersWithDrift) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const auto air = made_up_air(6 * 3600, seed, 0.15, 3.0, true);
    const auto a = logged(air, 10.0, 0.0, 0.0, 0.1, 0.4, seed + 100, false);
    const auto b = logged(air, 60.0, 4040.0, 4.0, 0.5, 0.4, seed + 200, true);
    const auto finding = find_clock_offset(a.channel(), b.channel());
    ASSERT_TRUE(finding.found) << seed << ": " << finding.why;
    const auto& found = *finding.found;
    const double true_s = (found.at_s - 4040.0) / (1.0 + 4.0 / 3600.0);
    EXPECT_NEAR(found.offset_s, true_s - found.at_s, 20.0) << seed;
    EXPECT_NEAR(found.offset_s, true_s - found.at_s, found.uncertainty_s) << seed;
    EXPECT_LT(found.uncertainty_s, 30.0) << seed;
    EXPECT_NEAR(found.drift_s_per_h, -4.0, 4.0) << seed;
  }
}

TEST(ClockOffset, ReportsNoDriftWhereThereIsNone) {
  int drifting = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const auto air = made_up_air(4 * 3600, seed, 0.15, 3.0, true);
    const auto a = logged(air, 10.0, 0.0, 0.0, 0.1, 0.4, seed + 100, false);
    const auto b = logged(air, 10.0, -75.0, 0.0, 0.1, 0.4, seed + 200, false);
    const auto finding = find_clock_offset(a.channel(), b.channel());
    ASSERT_TRUE(finding.found) << seed << ": " << finding.why;
    EXPECT_NEAR(finding.found->offset_s, 75.0, 3.0) << seed;
    if (finding.found->drift_s_per_h != 0.0) ++drifting;
  }
  EXPECT_LE(drifting, 2);  // 2.5 sd: one in eighty by chance
}

TEST(ClockOffset, IsRefusedForASteadyCycleThatRepeatsItself) {
  const auto air = made_up_air(4 * 3600, 1, 0.0, 0.0, false);
  const auto a = logged(air, 10.0, 0.0, 0.0, 0.1, 0.4, 2, false);
  const auto b = logged(air, 10.0, 100.0, 0.0, 0.1, 0.4, 3, false);
  const auto finding = find_clock_offset(a.channel(), b.channel());
  EXPECT_FALSE(finding.found);
  EXPECT_NE(finding.why.find("another offset"), std::string::npos) << finding.why;
}

TEST(ClockOffset, IsRefusedWhereNothingMoves) {
  const std::vector<double> still(4 * 3600, 250.0);
  int found = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const auto a = logged(still, 10.0, 0.0, 0.0, 0.1, 0.4, 2 * seed, false);
    const auto b = logged(still, 60.0, 100.0, 0.0, 0.5, 0.4, 2 * seed + 1, true);
    if (find_clock_offset(a.channel(), b.channel()).found) ++found;
  }
  EXPECT_EQ(found, 0);
  const auto flat = logged(still, 10.0, 0.0, 0.0, 1.0, 0.0, 5, false);
  EXPECT_FALSE(find_clock_offset(flat.channel(), flat.channel()).found);
}

TEST(ClockOffset, IsRefusedBetweenPitsThatHaveNothingToDoWithEachOther) {
  int found = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const auto a = logged(made_up_air(4 * 3600, seed, 0.15, 3.0, false), 10.0, 0.0, 0.0, 0.1, 0.4,
                          seed, false);
    const auto b = logged(made_up_air(4 * 3600, seed + 500, 0.15, 3.0, false), 10.0, 0.0, 0.0, 0.1,
                          0.4, seed, false);
    if (find_clock_offset(a.channel(), b.channel()).found) ++found;
  }
  EXPECT_LE(found, 1);
}

TEST(ClockOffset, BearsGapsAndMissingReadings) {
  const auto air = made_up_air(4 * 3600, 7, 0.15, 3.0, true);
  auto a = logged(air, 10.0, 0.0, 0.0, 0.1, 0.4, 1, false);
  for (std::size_t i = 300; i < 420; ++i) a.values[i] = std::nan("");
  auto b = logged(air, 10.0, 30.0, 0.0, 0.1, 0.4, 2, false);
  b.seconds.erase(b.seconds.begin() + 700, b.seconds.begin() + 800);
  b.values.erase(b.values.begin() + 700, b.values.begin() + 800);
  const auto finding = find_clock_offset(a.channel(), b.channel());
  ASSERT_TRUE(finding.found) << finding.why;
  EXPECT_NEAR(finding.found->offset_s, -30.0, 3.0);
  EXPECT_FALSE(find_clock_offset({}, b.channel()).found);
}

}  // namespace
}  // namespace pitwright::series
