#include "series/swing.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "numeric/random.h"
#include "series/robust.h"

namespace pitwright::series {
namespace {

std::vector<double> red_noise(std::uint64_t seed, int n, double phi) {
  numeric::Random random(seed, 77);
  std::vector<double> out(static_cast<std::size_t>(n));
  double x = 0.0;
  for (double& v : out) v = x = phi * x + random.normal();
  return out;
}

/// A relay's saw-tooth of 10 K peak to trough with a tenth of jitter in each length, red noise and
/// drift; `realized_s` is the mean length of its whole cycles.
struct SawTooth {
  std::vector<double> values;
  double realized_s = 0.0;
};

SawTooth saw_tooth(std::uint64_t seed, double period_s, double noise_k, int n, double step_s) {
  numeric::Random random(seed, 5);
  SawTooth out;
  double length = period_s * (1.0 + 0.1 * random.normal()), began = 0.0, red = 0.0;
  int cycles = 0;
  for (int i = 0; i < n; ++i) {
    const double t = i * step_s;
    while (t - began > length) {
      began += length;
      ++cycles;
      length = period_s * (1.0 + 0.1 * random.normal());
    }
    const double phase = (t - began) / length;
    const double saw = phase < 0.6 ? phase / 0.6 * 10.0 - 5.0 : 5.0 - (phase - 0.6) / 0.4 * 10.0;
    red = 0.95 * red + 0.31 * noise_k * random.normal();
    out.values.push_back(120.0 + saw + red + 0.2 * random.normal() + 3.0 * t / 3600.0);
  }
  out.realized_s = began / cycles;
  return out;
}

TEST(Swing, RedNoiseAndRandomWalksHaveNoPeriodInFewerThanOneOfTwenty) {
  for (const double phi : {0.0, 0.9, 0.98, 0.995, 1.0}) {
    int alarms = 0;
    for (std::uint64_t seed = 0; seed < 500; ++seed) {
      alarms += find_cycle(red_noise(seed, 720, phi), 15.0).period_s ? 1 : 0;
    }
    EXPECT_LT(alarms, 25) << "phi " << phi;
  }
}

TEST(Swing, FindsThePeriodOfAJitteringSawToothWithinTwoPercentOfItsOwnMean) {
  // 0.02: the bar set for this method. Scatter of single cycles is 10 %; the mean of those that
  // really happened is compared, so that the test does not ask for more than the record holds.
  for (const double period_s : {150.0, 270.0, 412.0, 600.0}) {
    int missed = 0, off = 0;
    for (std::uint64_t seed = 0; seed < 40; ++seed) {
      const auto saw = saw_tooth(seed, period_s, 1.5, 1080, 10.0);
      const auto found = find_cycle(saw.values, 10.0);
      if (!found.period_s) {
        ++missed;
        continue;
      }
      off += std::abs(*found.period_s / saw.realized_s - 1.0) > 0.02 ? 1 : 0;
    }
    EXPECT_EQ(missed, 0) << period_s;
    EXPECT_LE(off, 1) << period_s;
  }
}

TEST(Swing, TellsSizeAndScatterOfASawTooth) {
  const auto saw = saw_tooth(3, 412.0, 0.3, 1080, 10.0);
  const auto found = find_cycle(saw.values, 10.0);
  ASSERT_TRUE(found.period_s);
  EXPECT_NEAR(found.size, 10.0, 1.0);  // smoothing over a twentieth rounds the peaks off
  // A rise through zero lies three tenths into a cycle, so the times between them mix two lengths:
  // 41 s x sqrt(0.7^2 + 0.3^2) = 31 s, known to a seventh from 26 of them; smoothing takes some.
  EXPECT_NEAR(found.scatter_s, 31.0, 13.0);
  EXPECT_NEAR(found.cycles, 10800 / 412, 2);
}

TEST(Swing, AHandFedFireWithUnequalSplitsHasNoPeriodButASize) {
  int periods = 0;
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    numeric::Random random(seed, 9);
    std::vector<double> y;
    double heat = 0.0, next = 0.0;
    for (int i = 0; i < 1440; ++i) {
      if (10.0 * i > next) {
        heat = 18.0;
        next = 10.0 * i + random.uniform(500.0, 2400.0);
      }
      heat *= std::exp(-10.0 / 600.0);
      y.push_back(heat + 0.3 * random.normal());
    }
    const auto found = find_cycle(y, 10.0);
    periods += found.period_s ? 1 : 0;
    EXPECT_GT(found.size, 3.0);
  }
  EXPECT_LT(periods, 10);  // some draws of eight splits are steady by chance
}

TEST(Swing, MissingStretchesDoNotHideThePeriod) {
  auto saw = saw_tooth(8, 300.0, 0.5, 1080, 10.0);
  for (std::size_t i = 300; i < 380; ++i) saw.values[i] = NAN;
  for (std::size_t i = 700; i < 703; ++i) saw.values[i] = NAN;
  const auto found = find_cycle(saw.values, 10.0);
  ASSERT_TRUE(found.period_s);
  EXPECT_NEAR(*found.period_s, saw.realized_s, 0.03 * saw.realized_s);
}

TEST(Swing, ASeriesBesideASwingingOneTellsItsOwnSize) {
  auto saw = saw_tooth(4, 300.0, 0.3, 1080, 10.0);
  for (double& v : saw.values) v = 100.0 + 0.35 * (v - 120.0);
  const auto found = cycle_near(saw.values, 10.0, 300.0);
  ASSERT_TRUE(found.period_s);
  EXPECT_NEAR(found.size, 3.5, 0.5);
}

TEST(Swing, AConstantOrEmptySeriesHasNoSwing) {
  const std::vector<double> flat(500, 107.2);
  EXPECT_FALSE(find_cycle(flat, 10.0).period_s);
  EXPECT_EQ(find_cycle(flat, 10.0).size, 0.0);
  EXPECT_FALSE(find_cycle({}, 10.0).period_s);
  EXPECT_FALSE(cycle_near(flat, 10.0, 300.0).period_s);
}

std::vector<double> southern_pressures() {
  std::ifstream file(PITWRIGHT_SOURCE_DIR "/data/nist_strd/mathnet/ENSO.dat");
  std::vector<double> out;
  std::string line;
  for (int number = 1; std::getline(file, line); ++number) {
    if (number < 61) continue;
    std::istringstream cells(line);
    double y = 0.0;
    if (cells >> y) out.push_back(y);
  }
  return out;
}

// Source: NIST StRD nonlinear set ENSO: monthly pressures with cycles of 12 (given), 26.887614440
// (sd 0.42) and 44.311088700 (sd 0.94) months. A month stands for a minute here.
TEST(Swing, FindsTheYearInTheSouthernPressures) {
  const auto months = southern_pressures();
  ASSERT_EQ(months.size(), 168u);
  const auto year = find_cycle(months, 60.0, {.shortest_s = 8 * 60.0, .longest_s = 20 * 60.0});
  ASSERT_TRUE(year.period_s);
  // Half a month: 14 years of noise 2.2 beside a cycle of 3.1.
  EXPECT_NEAR(*year.period_s / 60.0, 12.0, 0.5);
}

std::vector<double> heater_log(const std::string& name) {
  std::ifstream file(PITWRIGHT_SOURCE_DIR "/data/mycoreactor_onoff_heater/raw/" + name + ".csv");
  std::vector<double> out;
  std::string line;
  while (std::getline(file, line)) {
    std::istringstream cells(line);
    std::string time, humidity, celsius;
    std::getline(cells, time, ',');
    std::getline(cells, humidity, ',');
    std::getline(cells, celsius, ',');
    char* end = nullptr;
    const double v = std::strtod(celsius.c_str(), &end);
    out.push_back(end != celsius.c_str() && std::isfinite(v) && v > 0.0 ? v : NAN);
  }
  return out;
}

// Source: data/mycoreactor_onoff_heater/PROVENANCE.md: 3 to 6 cycles a log, temperature 59.6-60.2
// in the second half. The times between its OFF to ON edges (202602111639: 520, 851, 380, 860, 1250
// s) scatter by more than a third: on/off, but not steady, and that is what has to be said. Sizes
// at 0.1 K resolution: 0.6 K of range, half a step either way at both ends, peaks rounded off.
TEST(Swing, AnOnOffHeatersFewUnequalCyclesAreNoSteadyCycleButHaveASize) {
  for (const std::string name : {"202602111639", "202603031557", "202603031656", "202603031806"}) {
    const auto log = heater_log(name);
    ASSERT_GT(log.size(), 300u) << name;
    const auto found = find_cycle(std::span(log).subspan(log.size() / 2), 10.0);
    EXPECT_FALSE(found.period_s) << name;
    EXPECT_GT(found.size, 0.25) << name;
    EXPECT_LT(found.size, 0.75) << name;
  }
}

}  // namespace
}  // namespace pitwright::series
