#include "safety/lethality.h"

#include <cmath>

#include <gmock/gmock.h>

#include "safety/practice_trace.h"

namespace pitwright::safety {
namespace {

using Points = std::vector<std::pair<double, double>>;

Trace trace_of_readings(const Points& points, double tolerance_f = 0.0) {
  return trace_of(burn_with({food_probe("A", points, tolerance_f)}), "P", {});
}

Lethality meat(const Trace& trace) {
  return lethality_of(trace, *find_rule("meat 6.5 log"), Reading::credited);
}

Points steady(double at_f, double for_s, double step_s) {
  return lines({{0.0, at_f}, {for_s, at_f}}, step_s);
}

TEST(Lethality, MeetsEveryMeatRowAtItsTimeAndNotAStepBefore) {
  for (const auto& row : find_rule("meat 6.5 log")->rows) {
    if (row.dwell_s <= 0.0) continue;
    const auto met = meat(trace_of_readings(steady(row.at_f, row.dwell_s, 1.0)));
    ASSERT_TRUE(met.met) << row.at_f;
    EXPECT_EQ(met.rows[*met.met].row.at_f, row.at_f);
    EXPECT_NEAR(*met.met_s, row.dwell_s, 1e-6);
    EXPECT_FALSE(meat(trace_of_readings(steady(row.at_f, row.dwell_s - 1.0, 1.0))).met) << row.at_f;
    EXPECT_NEAR(*met.log_reduction, 6.5, 1e-3) << row.at_f;
  }
}

TEST(Lethality, CreditsNothingATenthBelowTheFirstRow) {
  const auto none = meat(trace_of_readings(steady(129.9, 36000, 60)));
  EXPECT_FALSE(none.met);
  EXPECT_EQ(*none.log_reduction, 0.0);
  EXPECT_FALSE(none.nearest);
}

TEST(Lethality, AsksTwoReadingsInARowOfARowOfNoTime) {
  EXPECT_FALSE(meat(trace_of_readings({{0, 120}, {10, 158}, {20, 120}})).met);
  const auto two = meat(trace_of_readings({{0, 120}, {10, 158}, {20, 158}, {30, 120}}));
  ASSERT_TRUE(two.met);
  EXPECT_EQ(two.rows[*two.met].row.at_f, 158);
  EXPECT_EQ(*two.met_s, 20);
}

TEST(Lethality, TakesTheTolerancesOffFirst) {
  const auto points = steady(145, 300, 10);
  EXPECT_TRUE(meat(trace_of_readings(points, 0.0)).met);
  const auto trace = trace_of_readings(points, 2.0);  // 143 degF asks 6 min
  EXPECT_FALSE(meat(trace).met);
  EXPECT_TRUE(lethality_of(trace, *find_rule("meat 6.5 log"), Reading::as_read).met);
  auto unchecked = burn_with({food_probe("A", points)});
  unchecked.probes[0].uncertainty.reset();
  const auto taken = trace_of(unchecked, "P", {});
  EXPECT_TRUE(taken.unchecked);
  EXPECT_NEAR((taken.coldest_c[0] - taken.credited_c[0]) * 1.8, 4.0, 1e-9);
}

// Source: FSIS-GD-2021-0014, p. 67: 158 degF missed may be met by 27 s at 154 degF, gathered.
TEST(Lethality, GathersTimeInPiecesForTheTablesOnly) {
  const Points pieces{{0, 154}, {14, 154}, {15, 150}, {16, 154}, {30, 154}};
  const auto table = meat(trace_of_readings(pieces));
  ASSERT_TRUE(table.met);
  EXPECT_EQ(table.rows[*table.met].row.at_f, 154);
  const Points apart{{0, 145}, {100, 145}, {101, 140}, {102, 145}, {202, 145}};
  const auto rest =
      lethality_of(trace_of_readings(apart), *find_rule("whole 145 F"), Reading::credited);
  EXPECT_FALSE(rest.met);  // 3 min of rest in one stretch
  EXPECT_EQ(rest.rows[0].held_s, 100);
  const auto whole = lethality_of(trace_of_readings(steady(145, 180, 10)),
                                  *find_rule("whole 145 F"), Reading::credited);
  EXPECT_EQ(*whole.met_s, 180);
}

// Source: the closed form of the lethality integral over a steady rise r from T1 = 54.4444 degC,
//   z / (ln 10 r D) [10^((T2 - T1) / z) - 1],
// with D(54.4444 degC) = 112 min / 6.5 and z = 10 degF, the line that the meat column rounds
// (FSIS-GD-2021-0014, Table 2).
constexpr double rise_k_s = 5.0 / 3600.0;

double closed_form() {
  const double z = 10.0 / 1.8, d_s = 6720.0 / 6.5, top_k = 14.0 / 1.8;
  return z / (std::log(10.0) * rise_k_s * d_s) * (std::pow(10.0, top_k / z) - 1.0);
}

Trace rise(double step_s) {
  return trace_of_readings(lines({{0.0, 130.0}, {14.0 / 1.8 / rise_k_s, 144.0}}, step_s));
}

TEST(Lethality, OfASteadyRiseGoesToTheClosedFormFromBelow) {
  Rule line = *find_rule("meat 6.5 log");
  for (auto& row : line.rows) {
    if (row.dwell_s > 0.0) row.dwell_s = 6720.0 * std::pow(10.0, -(row.at_f - 130.0) / 10.0);
  }
  const auto short_by = [&](double step_s) {
    const auto sum = lethality_of(rise(step_s), line, Reading::credited).log_reduction;
    return closed_form() - *sum;
  };
  const double coarse = short_by(20.0), fine = short_by(10.0);
  EXPECT_GT(fine, 0.0);
  EXPECT_LT(fine, 0.003 * closed_form());  // half a step of rate: ln 10 x 0.0069 K / z
  EXPECT_NEAR(coarse / fine, 2.0, 0.05);   // of first order, as the lower reading must be
}

TEST(Lethality, OfASteadyRiseDiffersFromTheClosedFormByTheTablesRoundingOnly) {
  double least = 1.0, most = 1.0;
  for (const auto& row : find_rule("meat 6.5 log")->rows) {
    if (row.at_f > 144.0) break;
    const double ratio = 6720.0 * std::pow(10.0, -(row.at_f - 130.0) / 10.0) / row.dwell_s;
    least = std::min(least, ratio);
    most = std::max(most, ratio);
  }
  const double sum = *meat(rise(2.0)).log_reduction / closed_form();
  EXPECT_GT(sum, least - 0.001);
  EXPECT_LT(sum, most);
  EXPECT_LT(sum, 1.0);  // the column is rounded up more than down
}

// A 12-min stay at 140 degF is the row itself: 6.5, where the closed form above says 6.96.
TEST(Lethality, KeepsToTheTableWhereTheTableIsMoreCareful) {
  EXPECT_NEAR(*meat(trace_of_readings(steady(140, 720, 10))).log_reduction, 6.5, 1e-3);
}

TEST(Lethality, StopsAtTheRateOfTheLastTimedRow) {
  const auto hot = meat(trace_of_readings(steady(200, 140, 10)));
  EXPECT_NEAR(*hot.log_reduction, 65.0, 1e-6);  // 140 s at 14 s for 6.5
}

TEST(Lethality, GivesAGapNoCredit) {
  auto points = steady(145, 120, 10);
  for (double at = 720; at <= 820; at += 10) points.emplace_back(at, 145);
  const auto trace = trace_of_readings(points);
  const auto broken = meat(trace);
  EXPECT_FALSE(broken.met);  // 120 + 100 s of 240
  EXPECT_NEAR(broken.rows[15].held_s, 220, 1e-9);
  EXPECT_NEAR(*broken.log_reduction, 6.5 * 220 / 240, 1e-3);
}

TEST(Lethality, OfPoultryNeedsLongerThanMeat) {
  const auto trace = trace_of_readings(steady(150, 100, 1));
  EXPECT_TRUE(meat(trace).met);
  const auto turkey = lethality_of(trace, *find_rule("turkey 12 %"), Reading::credited);
  EXPECT_FALSE(turkey.met);
  EXPECT_EQ(turkey.rows[*turkey.nearest].row.at_f, 150);
  EXPECT_FALSE(lethality_of(trace_of_readings(steady(150, 4.9 * 60 - 1, 1)),
                            *find_rule("turkey 12 %"), Reading::credited)
                   .met);
  EXPECT_TRUE(lethality_of(trace_of_readings(steady(150, 4.9 * 60, 1)), *find_rule("turkey 12 %"),
                           Reading::credited)
                  .met);
}

}  // namespace
}  // namespace pitwright::safety
