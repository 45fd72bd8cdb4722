#include "safety/trace.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <gmock/gmock.h>

#include "numeric/random.h"
#include "safety/lethality.h"
#include "safety/practice_trace.h"

namespace pitwright::safety {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

double f(double celsius) {
  return celsius * 1.8 + 32.0;
}

Band band(double low_f, double high_f) {
  return {(low_f - 32.0) / 1.8, (high_f - 32.0) / 1.8};
}

TEST(Trace, TakesTheColdestProbeAtEveryMoment) {
  const auto burn = burn_with({food_probe("A", lines({{0, 100}, {600, 160}}, 10)),
                               food_probe("B", lines({{0, 130}, {600, 130}}, 60), 1.0)});
  const auto trace = trace_of(burn, "P", {});
  EXPECT_EQ(trace.probes, 2);
  EXPECT_NEAR(f(trace.coldest_c.front()), 100, 1e-9);
  EXPECT_NEAR(f(trace.warmest_c.front()), 130, 1e-9);
  EXPECT_NEAR(f(trace.coldest_c.back()), 130, 1e-9);
  EXPECT_NEAR(f(trace.credited_c.back()), 129, 1e-9);
  EXPECT_NEAR(f(trace.warmest_c.back()), 160, 1e-9);
  EXPECT_THAT(std::vector<bool>(trace.joined.begin() + 1, trace.joined.end()), testing::Each(true));
}

TEST(Trace, ADropOutOfOneOfTwoProbesIsAGap) {
  auto broken = food_probe("B", lines({{0, 120}, {3600, 120}}, 10));
  for (std::size_t i = 100; i < 200; ++i) broken.readings.values[i] = nan;
  const auto burn = burn_with({food_probe("A", lines({{0, 150}, {3600, 150}}, 10)), broken});
  const auto trace = trace_of(burn, "P", {});
  const auto time = time_between(trace, band(40, 140), 0, 3600);
  EXPECT_NEAR(time.unread_s, 1010, 1e-6);
  EXPECT_NEAR(time.read_s, 2590, 1e-6);
  const auto credit = lethality_of(trace, *find_rule("meat 6.5 log"), Reading::credited);
  EXPECT_FALSE(credit.met);
}

TEST(Trace, AMissingReadingOrTwoIsNoGap) {
  auto probe = food_probe("A", lines({{0, 120}, {600, 120}}, 10));
  probe.readings.values[20] = probe.readings.values[21] = nan;
  EXPECT_EQ(time_between(trace_of(burn_with({probe}), "P", {}), band(40, 140), 0, 600).unread_s, 0);
}

TEST(Trace, LeavesOutWhatNoFoodCanBe) {
  auto probe = food_probe("A", lines({{0, 120}, {3600, 120}}, 10));
  for (std::size_t i = 50; i < 150; ++i) probe.readings.values[i] = 1260.0;
  const auto trace = trace_of(burn_with({probe}), "P", {});
  EXPECT_EQ(trace.dropped, 100);
  EXPECT_LT(f(*std::ranges::max_element(trace.warmest_c)), 121);
  EXPECT_NEAR(time_between(trace, band(40, 140), 0, 3600).unread_s, 1010, 1e-6);
}

TEST(Trace, AHandHeldProbeLowersTheColdestSpotWithoutMakingGaps) {
  const auto burn = burn_with({food_probe("A", lines({{0, 150}, {7200, 150}}, 60)),
                               food_probe("hand", {{0, 141}, {3600, 142}, {7200, 143}})});
  const auto trace = trace_of(burn, "P", {});
  EXPECT_NEAR(f(trace.coldest_c.front()), 141, 1e-9);
  EXPECT_EQ(time_between(trace, band(40, 140), 0, 7200).unread_s, 0);
}

TEST(Trace, CorrectionsAreAddedAtTheirReading) {
  auto probe = food_probe("A", lines({{0, 145}, {600, 145}}, 10));
  probe.correction = TemperatureDelta::from_fahrenheit_degrees(-2);
  const auto trace = trace_of(burn_with({probe}), "P", {});
  EXPECT_NEAR(f(trace.coldest_c[3]), 143, 1e-9);
  EXPECT_NEAR(f(trace.credited_c[3]), 143, 1e-9);
}

TEST(TimeBetween, CrossesLimitsOnStraightLines) {
  const auto trace =
      trace_of(burn_with({food_probe("A", lines({{0, 30}, {3600, 150}}, 60))}), "P", {});
  const auto time = time_between(trace, band(40, 140), 0, 3600);
  EXPECT_NEAR(time.read_s, 3000, 1e-6);
  EXPECT_EQ(time.unread_s, 0);
  EXPECT_NEAR(time_between(trace, band(40, 140), 600, 1200).read_s, 600, 1e-6);
  EXPECT_NEAR(time_below(trace, band(0, 140).high_c, 0, 3600).read_s, 3300, 1e-6);
}

TEST(TimeBetween, WidensByTheTolerance) {
  const auto trace =
      trace_of(burn_with({food_probe("A", lines({{0, 30}, {3600, 150}}, 60), 3.0)}), "P", {});
  const auto time = time_between(trace, band(40, 140), 0, 3600);
  EXPECT_NEAR(time.read_s, 3000, 1e-6);
  EXPECT_NEAR(time.most_s, 3180, 1e-6);  // 3 degF at either end, 30 s a degree
}

TEST(TimeBetween, CountsTimeBeforeTheFirstAndAfterTheLastReading) {
  const auto trace =
      trace_of(burn_with({food_probe("A", lines({{600, 150}, {1200, 150}}, 60))}), "P", {});
  const auto time = time_between(trace, band(40, 140), 0, 1500);
  EXPECT_NEAR(time.unread_s, 900, 1e-6);
  EXPECT_EQ(time.read_s, 0);
  EXPECT_NEAR(time_between(Trace{}, band(40, 140), 0, 1500).counted_s(), 1500, 1e-9);
}

/// The obvious way: every second by itself.
double seconds_between(const Trace& trace, Band limits, double to_s) {
  double inside = 0;
  for (double at = 0.5; at < to_s; at += 1.0) {
    const auto after = std::ranges::upper_bound(trace.seconds, at) - trace.seconds.begin();
    const auto i = static_cast<std::size_t>(after);
    if (i == 0 || i == trace.seconds.size() || !trace.joined[i]) {
      inside += 1;
      continue;
    }
    const double w = (at - trace.seconds[i - 1]) / (trace.seconds[i] - trace.seconds[i - 1]);
    const double cold = (1 - w) * trace.coldest_c[i - 1] + w * trace.coldest_c[i];
    const double warm = (1 - w) * trace.warmest_c[i - 1] + w * trace.warmest_c[i];
    inside += cold < limits.high_c && warm > limits.low_c ? 1 : 0;
  }
  return inside;
}

// Two hundred random pairs of probes with drop-outs, sentinels and odd steps.
TEST(Trace, OfFuzzedReadingsKeepsItsLaws) {
  numeric::Random random(20260502);
  for (int round = 0; round < 200; ++round) {
    std::vector<Probe> probes;
    for (int p = 0; p < 2; ++p) {
      std::vector<std::pair<double, double>> points;
      double at = std::floor(60 * random.uniform()), level = 30 + 150 * random.uniform();
      while (at < 7200) {
        level += 6 * random.normal();
        const double odd = random.uniform();
        points.emplace_back(at, odd < 0.02 ? nan : odd < 0.03 ? -999.0 : level);
        at += odd > 0.99 ? 1000.0 : 1.0 + std::floor(90 * random.uniform());
      }
      probes.push_back(food_probe(p == 0 ? "A" : "B", points, 3 * random.uniform()));
    }
    const auto burn = burn_with(probes);
    const auto trace = trace_of(burn, "P", {});
    const Band limits = band(40, 140);
    const auto time = time_between(trace, limits, 0, 7200);
    EXPECT_NEAR(time.counted_s(), seconds_between(trace, limits, 7200), 200) << round;
    EXPECT_GE(time.most_s + 1e-6, time.counted_s());
    EXPECT_LE(time.most_s, 7200 + 1e-6);
    for (std::size_t i = 0; i < trace.seconds.size(); ++i) {
      EXPECT_LE(trace.credited_c[i], trace.coldest_c[i]);
      EXPECT_LE(trace.coldest_c[i], trace.warmest_c[i]);
    }
    const auto& rule = *find_rule("meat 6.5 log");
    const auto credited = lethality_of(trace, rule, Reading::credited);
    const auto as_read = lethality_of(trace, rule, Reading::as_read);
    EXPECT_LE(*credited.log_reduction, *as_read.log_reduction + 1e-9);
    EXPECT_LE(credited.met.has_value(), as_read.met.has_value());
    for (std::size_t i = 1; i < credited.rows.size(); ++i)
      EXPECT_LE(credited.rows[i].held_s, credited.rows[i - 1].held_s + 1e-9);
  }
}

}  // namespace
}  // namespace pitwright::safety
