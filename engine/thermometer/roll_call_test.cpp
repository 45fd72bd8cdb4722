#include "thermometer/roll_call.h"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "numeric/random.h"
#include "thermometer/line_fit.h"

namespace pitwright::thermometer {
namespace {

constexpr double missing = std::numeric_limits<double>::quiet_NaN();

/// A thermometer that shows gain * true + offset at each place.
Candidate made_up(const std::string& name, double offset_k, double gain,
                  const std::vector<double>& hot_c = {120.0, 123.0, 121.0, 118.0}) {
  Candidate out{name, 0.1, {}};
  const std::array<std::vector<double>, 4> truth{
      {{0.0, 0.0, 0.0}, {98.0, 98.0}, {20.0, 20.1, 20.2}, hot_c}};
  for (std::size_t p = 0; p < truth.size(); ++p) {
    for (const double c : truth[p]) out.readings[p].push_back(gain * c + offset_k);
  }
  return out;
}

Conditions plain_conditions() {
  Conditions conditions;
  conditions.ice = FixedPoint{0.0, 0.05};
  conditions.boil = FixedPoint{98.0, 0.2};
  conditions.used_at_c = 121.0;
  return conditions;
}

const Shown& at(const Checked& probe, Place place) {
  return *probe.at[static_cast<std::size_t>(place)];
}

// Source: JCGM 100:2008 (GUM) annex H.3, calibration of a thermometer: data of table H.6 (read in a
// copy), results as printed there: slope 0.00218 (7), correction at 30 degC -0.1494 (41).
TEST(LineFit, IsThatOfTheGumsThermometer) {
  const std::array t{21.521, 22.012, 22.512, 23.003, 23.507, 23.999,
                     24.513, 25.002, 25.503, 26.010, 26.511};
  const std::array b{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165,
                     -0.156, -0.157, -0.159, -0.161, -0.160};
  std::vector<CheckPoint> points;
  // Uncertainties far too small: the line's own misses tell them, as in the GUM.
  for (std::size_t i = 0; i < t.size(); ++i) points.push_back({t[i], b[i], 1e-4, 0.0, 0.0, 0.0});
  const auto line = fit_line(points, 1.0);
  EXPECT_TRUE(line.has_slope);
  EXPECT_NEAR(line.slope, 0.00218, 0.5e-5);
  EXPECT_NEAR(line.add_k(20.0), -0.1712, 0.5e-4);
  EXPECT_NEAR(line.add_k(30.0), -0.1494, 0.5e-4);
  EXPECT_NEAR(line.stretch * 1e-4, 0.0035, 0.5e-4);
  constexpr double normal_95 = 1.959964;
  EXPECT_NEAR(uncertainty_of(line, 30.0, 0.0).all_k / normal_95, 0.0041, 0.5e-4);
  EXPECT_NEAR(uncertainty_of(line, 20.0, 0.0).all_k / normal_95, 0.0029, 0.5e-4);
}

// By hand: s = 0.1 of 3, resolution 0.1, ice 0.0577350 K, so u = 0.0866025 K; Welch-Satterthwaite
// 10.1 degrees of freedom; Student's t of 10 at 95 % two-sided is 2.228 (any table).
TEST(RollCall, CombinesSpreadRoundingAndReferenceAsTheGumDoes) {
  Conditions conditions;
  conditions.ice = FixedPoint{0.0, 0.1 / std::sqrt(3.0)};
  conditions.used_at_c = 0.3;
  const auto called = hold(conditions, {{"one", 0.1, {{{0.2, 0.3, 0.4}, {}, {}, {}}}}});
  const auto& shown = at(called.probes[0], Place::ice);
  EXPECT_EQ(shown.count, 3);
  EXPECT_NEAR(shown.add_k, -0.3, 1e-12);
  EXPECT_NEAR(*shown.spread_k, 0.1, 1e-12);
  EXPECT_NEAR(shown.uncertainty_k, 0.0866025 * 2.226, 2e-4);
  EXPECT_NEAR(called.probes[0].uncertainty_k, shown.uncertainty_k, 1e-9);
}

TEST(RollCall, IceAndBoilGiveOffsetAndGain) {
  const auto called = hold(plain_conditions(), {made_up("A1", 1.0, 1.01)});
  const auto& probe = called.probes[0];
  EXPECT_TRUE(probe.has_gain);
  EXPECT_NEAR(probe.slope, 1.0 / 1.01 - 1.0, 1e-9);
  for (const double c : {0.0, 50.0, 98.0, 121.0}) {
    const double reading = 1.01 * c + 1.0;
    EXPECT_NEAR(reading + correction_k(probe.correction, reading), c, 1e-9);
  }
  EXPECT_EQ(probe.verdict, Verdict::correct);
  EXPECT_TRUE(probe.comparable);
  EXPECT_TRUE(called.bundles.empty());  // one thermometer is no bundle
}

TEST(RollCall, OfIceAloneIsLessSureTheHotterItIsUsed) {
  auto probe = made_up("A1", 1.0, 1.0);
  probe.readings[1].clear();
  auto conditions = plain_conditions();
  const auto hot = hold(conditions, {probe}).probes[0];
  EXPECT_FALSE(hot.has_gain);
  EXPECT_NEAR(hot.add_k, -1.0, 1e-9);
  conditions.used_at_c = 20.0;
  const auto cool = hold(conditions, {probe}).probes[0];
  EXPECT_NEAR(cool.add_k, -1.0, 1e-9);
  // 1 % of 120 K as a half width, over root 3, at 95 %: 1.36 K (rectangular: GUM 4.3.7).
  EXPECT_NEAR(hot.uncertainty_k, std::hypot(0.01 * 120.0 / std::sqrt(3.0) * 1.96, 0.11), 0.01);
  EXPECT_LT(cool.uncertainty_k, 0.3);
}

TEST(RollCall, ABundleTakesOutWhatTheFireDoesAndFindsTheOddOneOut) {
  std::vector<Candidate> all;
  for (const double offset : {0.0, 0.3, -0.2, 2.0}) {
    all.push_back(made_up("P" + std::to_string(all.size()), offset, 1.0, {105, 130, 118, 111}));
    all.back().readings[0].clear();
    all.back().readings[1].clear();
  }
  Conditions conditions;
  conditions.used_at_c = 115.0;
  const auto called = hold(conditions, all);
  ASSERT_EQ(called.bundles.size(), 2U);
  EXPECT_FALSE(called.bundles[1].is_absolute);
  EXPECT_NEAR(called.bundles[1].raw_range_k, 2.2, 1e-9);
  EXPECT_LT(called.bundles[1].corrected_range_k, 0.05);
  for (const auto& probe : called.probes) {
    EXPECT_LT(*at(probe, Place::hot).spread_k, 1e-9) << probe.name;  // the swing of 25 K is common
    EXPECT_GT(probe.uncertainty_k, 2.0) << probe.name;  // nothing says that they are right together
    EXPECT_LT(probe.own_k, 1.3) << probe.name;
    EXPECT_TRUE(probe.comparable);
  }
  EXPECT_NEAR(called.probes[3].add_k - called.probes[0].add_k, -2.0, 0.01);
}

TEST(RollCall, AThermometerRightInIceAndBoilButNotInTheHotBundleStaysApart) {
  std::vector<Candidate> all{made_up("A", 0.2, 1.0), made_up("B", 0.0, 1.0),
                             made_up("C", -0.1, 1.0), made_up("D", 0.0, 1.0)};
  for (double& c : all[3].readings[3]) c -= 9.0;
  const auto called = hold(plain_conditions(), all);
  const auto& odd = called.probes[3];
  EXPECT_EQ(odd.verdict, Verdict::apart);
  EXPECT_EQ(odd.reason, Reason::bundle);
  EXPECT_EQ(odd.where, Place::hot);
  EXPECT_NEAR(odd.amount_k, -9.0, 0.3);
  EXPECT_FALSE(odd.comparable);
  EXPECT_NEAR(odd.add_k, 0.0, 0.1);  // the bundle does not spoil what ice and boil say
  for (const std::size_t i : {0U, 1U, 2U}) {
    EXPECT_TRUE(called.probes[i].comparable) << i;
    EXPECT_NEAR(called.probes[i].add_k, i == 0 ? -0.2 : i == 1 ? 0.0 : 0.1, 0.15);
  }
}

TEST(RollCall, BinsWhatNobodyCanTrust) {
  auto scattered = made_up("scatter", 0.0, 1.0);
  scattered.readings[0] = {-4.0, 5.0, 1.0};
  auto failing = made_up("far", -20.0, 1.0);
  auto steep = made_up("steep", 0.0, 1.08);
  const auto called = hold(plain_conditions(), {made_up("A", 0.0, 1.0), made_up("B", 0.1, 1.0),
                                                made_up("C", 0.2, 1.0), scattered, failing, steep});
  EXPECT_EQ(called.probes[0].verdict, Verdict::good);
  for (const std::size_t i : {3U, 4U, 5U}) {
    EXPECT_EQ(called.probes[i].verdict, Verdict::bin) << called.probes[i].name;
    EXPECT_TRUE(called.probes[i].correction.points.empty());
    EXPECT_FALSE(called.probes[i].comparable);
  }
  EXPECT_EQ(called.probes[3].reason, Reason::scatter);
  EXPECT_EQ(called.probes[4].reason, Reason::far_off);
  EXPECT_EQ(called.probes[5].reason, Reason::steep);
}

TEST(RollCall, WithoutAReferenceSaysSo) {
  Candidate alone{"alone", 0.1, {{{}, {}, {20.0, 20.1}, {}}}};
  const auto called = hold(Conditions{}, {alone});
  EXPECT_EQ(called.probes[0].verdict, Verdict::unread);
  EXPECT_EQ(called.probes[0].reason, Reason::no_reference);
  EXPECT_FALSE(called.probes[0].comparable);
}

TEST(RollCall, AMissedRoundCostsThatRound) {
  std::vector<Candidate> all{made_up("A", 0.0, 1.0), made_up("B", 0.5, 1.0),
                             made_up("C", -0.5, 1.0)};
  all[1].readings[3][1] = missing;
  const auto called = hold(plain_conditions(), all);
  EXPECT_EQ(at(called.probes[1], Place::hot).count, 3);
  EXPECT_NEAR(at(called.probes[1], Place::hot).add_k, -0.5, 0.1);
}

// What the ranges promise: 400 roll calls of four thermometers with errors drawn by the very
// uncertainties told, and the true correction inside the 95 % range that often.
TEST(RollCall, ItsRangesCoverTheTruth) {
  numeric::Random random(7, 1);
  int inside = 0, all = 0, own_inside = 0;
  double widest = 0.0;
  for (int trial = 0; trial < 400; ++trial) {
    auto conditions = plain_conditions();
    const double ice = 0.05 * random.normal(), boil = 98.0 + 0.2 * random.normal();
    std::vector<Candidate> candidates;
    std::vector<double> offsets, gains;
    std::array<double, 5> hot{};
    for (double& c : hot) c = 118.0 + 6.0 * random.normal();
    for (int i = 0; i < 4; ++i) {
      offsets.push_back(random.normal());
      gains.push_back(1.0 + 0.008 * random.normal());
      const auto shows = [&](double c) {
        return std::round((gains.back() * c + offsets.back() + 0.15 * random.normal()) * 10.0) / 10;
      };
      Candidate candidate{"P" + std::to_string(i), 0.1, {}};
      for (int k = 0; k < 3; ++k) candidate.readings[0].push_back(shows(ice));
      for (int k = 0; k < 3; ++k) candidate.readings[1].push_back(shows(boil));
      const double uneven = conditions.hot_uneven_k * random.normal();
      for (const double c : hot) candidate.readings[3].push_back(shows(c + uneven));
      candidates.push_back(candidate);
    }
    const auto called = hold(conditions, candidates);
    double mean_miss = 0.0;
    std::vector<double> misses;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
      const double reading = conditions.used_at_c;
      const double truth = (reading - offsets[i]) / gains[i] - reading;
      misses.push_back(called.probes[i].add_k - truth);
      mean_miss += misses.back() / 4.0;
      inside += std::abs(misses.back()) <= called.probes[i].uncertainty_k ? 1 : 0;
      ++all;
      widest = std::max(widest, called.probes[i].uncertainty_k);
    }
    for (std::size_t i = 0; i < misses.size(); ++i)
      own_inside += std::abs(misses[i] - mean_miss) <= called.probes[i].own_k ? 1 : 0;
  }
  const double share = static_cast<double>(inside) / all;
  const double own_share = static_cast<double>(own_inside) / all;
  RecordProperty("covered", std::to_string(share));
  RecordProperty("own_covered", std::to_string(own_share));
  EXPECT_GT(share, 0.93);
  EXPECT_LT(share, 0.995);
  EXPECT_GT(own_share, 0.93);  // what differs between thermometers is covered by their own part
  EXPECT_LT(widest, 2.0);      // and not by being wide
}

}  // namespace
}  // namespace pitwright::thermometer
