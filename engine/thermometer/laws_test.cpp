// The sensor laws and the boiling point against published tables.

#include <array>
#include <cmath>

#include <gtest/gtest.h>

#include "thermometer/couples.h"
#include "thermometer/platinum.h"
#include "thermometer/thermistor.h"
#include "thermometer/water.h"

namespace pitwright::thermometer {
namespace {

struct TableRow {
  Couple couple;
  double celsius, mv;
};

// Source: ITS-90 reference tables of NIST SRD 60 (Monograph 175), which print microvolts. K, T, and
// J and N at -200, 400, 800 and 1200 degC were read in copies of the tables; the others of J and N
// are from memory.
constexpr std::array<TableRow, 36> nist_tables{
    {{Couple::K, -200, -5.891}, {Couple::K, -100, -3.554}, {Couple::K, 0, 0.0},
     {Couple::K, 100, 4.096},   {Couple::K, 200, 8.138},   {Couple::K, 300, 12.209},
     {Couple::K, 400, 16.397},  {Couple::K, 800, 33.275},  {Couple::K, 1200, 48.838},
     {Couple::J, -200, -7.890}, {Couple::J, -100, -4.633}, {Couple::J, 0, 0.0},
     {Couple::J, 100, 5.269},   {Couple::J, 200, 10.779},  {Couple::J, 300, 16.327},
     {Couple::J, 400, 21.848},  {Couple::J, 800, 45.494},  {Couple::J, 1200, 69.553},
     {Couple::T, -200, -5.603}, {Couple::T, -100, -3.379}, {Couple::T, -50, -1.819},
     {Couple::T, -40, -1.475},  {Couple::T, 0, 0.0},       {Couple::T, 100, 4.279},
     {Couple::T, 200, 9.288},   {Couple::T, 300, 14.862},  {Couple::T, 400, 20.872},
     {Couple::N, -200, -3.990}, {Couple::N, -100, -2.407}, {Couple::N, 0, 0.0},
     {Couple::N, 100, 2.774},   {Couple::N, 200, 5.913},   {Couple::N, 300, 9.341},
     {Couple::N, 400, 12.974},  {Couple::N, 800, 28.455},  {Couple::N, 1200, 43.846}}};

TEST(Couples, MatchTheNistTablesToTheirLastDigit) {
  constexpr double half_last_digit = 0.501e-3;  // and a little for values on the edge: J at -200
  for (const auto& [couple, celsius, mv] : nist_tables) {
    EXPECT_NEAR(couple_mv(couple, celsius), mv, half_last_digit) << name_of(couple) << celsius;
  }
}

TEST(Couples, InvertTheNistTablesWithinHalfTheirLastDigit) {
  for (const auto& [couple, celsius, mv] : nist_tables) {
    const double tolerance = 0.501e-3 / couple_slope(couple, celsius);
    EXPECT_NEAR(couple_celsius(couple, mv, 0.0).value_or(NAN), celsius, tolerance)
        << name_of(couple) << celsius;
  }
}

TEST(Couples, TheInverseGivesBackEveryTemperature) {
  constexpr double left_mv = 2.1e-9;  // what type K's printed coefficients leave at 0 degC
  for (const auto couple : {Couple::J, Couple::K, Couple::N, Couple::T}) {
    for (double t = -190.0; t <= range_of(couple).highest_c; t += 3.7) {
      const double tolerance = 1e-9 + left_mv / couple_slope(couple, t);
      EXPECT_NEAR(couple_celsius(couple, couple_mv(couple, t), 0.0).value_or(NAN), t, tolerance)
          << name_of(couple) << t;
    }
  }
}

TEST(Couples, AreContinuousWhereTheirPiecesMeet) {
  // NIST Monograph 175 promises the pieces to meet; the coefficients' last digits leave this.
  for (const auto couple : {Couple::K, Couple::N, Couple::T}) {
    EXPECT_NEAR(couple_mv(couple, -1e-9), couple_mv(couple, 0.0), 1e-8) << name_of(couple);
  }
  EXPECT_NEAR(couple_mv(Couple::J, 760.0 - 1e-9), couple_mv(Couple::J, 760.0), 1e-6);
}

TEST(Couples, TheSlopeIsThatOfTheVoltage) {
  constexpr double h = 1e-3;
  for (const auto couple : {Couple::J, Couple::K, Couple::N, Couple::T}) {
    for (const double t : {-150.0, -5.0, 20.0, 107.0, 127.0, 250.0, 390.0}) {
      const double slope = (couple_mv(couple, t + h) - couple_mv(couple, t - h)) / (2.0 * h);
      EXPECT_NEAR(couple_slope(couple, t), slope, 1e-9) << name_of(couple) << t;
    }
  }
}

// Computed from the reference function apart from this code (double precision, bisection).
TEST(Couples, AddTheColdJunctionsVoltageNotItsTemperature) {
  EXPECT_NEAR(couple_celsius(Couple::K, 3.500, 25.0).value_or(NAN), 109.786, 5e-4);
  EXPECT_NEAR(couple_celsius(Couple::K, -0.200, 22.0).value_or(NAN), 17.038, 5e-4);
}

TEST(Couples, RefuseWhatNoThermocoupleGives) {
  EXPECT_FALSE(couple_celsius(Couple::K, 60.0, 20.0));
  EXPECT_FALSE(couple_celsius(Couple::T, 25.0, 20.0));
  EXPECT_FALSE(couple_celsius(Couple::K, 4.0, 300.0));
  EXPECT_FALSE(couple_celsius(Couple::K, NAN, 20.0));
  EXPECT_FALSE(couple_celsius(Couple::K, 4.0, NAN));
}

// Source: IEC 60751 / DIN EN 60751 reference table for Pt100, hundredths of an ohm (read in a
// copy).
TEST(Platinum, MatchesTheTableOfIec60751) {
  constexpr std::array<std::array<double, 2>, 14> table{{{-200, 18.52},
                                                         {-100, 60.26},
                                                         {-50, 80.31},
                                                         {-20, 92.16},
                                                         {0, 100.00},
                                                         {10, 103.90},
                                                         {50, 119.40},
                                                         {100, 138.51},
                                                         {150, 157.33},
                                                         {200, 175.86},
                                                         {250, 194.10},
                                                         {300, 212.05},
                                                         {400, 247.09},
                                                         {600, 313.71}}};
  for (const auto& [celsius, ohm] : table) {
    EXPECT_NEAR(platinum_ohm(celsius), ohm, 0.005) << celsius;
    EXPECT_NEAR(platinum_ohm(celsius, 1000.0), 10.0 * ohm, 0.05) << celsius;
    EXPECT_NEAR(platinum_celsius(ohm).value_or(NAN), celsius, 0.005 / 0.33) << celsius;
  }
}

TEST(Platinum, TheInverseGivesBackEveryTemperature) {
  for (double t = -200.0; t <= 850.0; t += 7.3) {
    EXPECT_NEAR(platinum_celsius(platinum_ohm(t)).value_or(NAN), t, 1e-8) << t;
  }
  EXPECT_NEAR(platinum_celsius(140.0).value_or(NAN), 103.9427, 5e-5);  // computed apart
  EXPECT_FALSE(platinum_celsius(10.0));
  EXPECT_FALSE(platinum_celsius(500.0));
  EXPECT_FALSE(platinum_celsius(100.0, 0.0));
}

// Source: a published 10 kohm curve, its coefficients from memory; its points were computed apart.
constexpr Thermistor ten_kilohm{1.129241e-3, 2.341077e-4, 8.775468e-8};

TEST(ThermistorCurve, GivesThePublishedPoints) {
  constexpr std::array<std::array<double, 3>, 6> points{{{32650.8, 0.0, 0.001},
                                                         {19903.5, 10.0, 0.001},
                                                         {10000.0, 25.0, 0.001},
                                                         {3602.3, 50.0, 0.01},
                                                         {1751.6, 70.0, 0.001},
                                                         {678.63, 100.0, 0.012}}};
  for (const auto& [ohm, celsius, tolerance] : points) {
    EXPECT_NEAR(thermistor_celsius(ten_kilohm, ohm).value_or(NAN), celsius, tolerance) << ohm;
  }
  for (const auto& [celsius, ohm] : {std::pair{60.0, 2487.14}, {150.0, 184.52}, {200.0, 65.17}}) {
    EXPECT_NEAR(thermistor_ohm(ten_kilohm, celsius), ohm, 0.0051) << celsius;
  }
}

TEST(ThermistorCurve, GoesThroughItsThreePointsInAnyOrder) {
  const auto curve = fit_thermistor({{{25.0, 10000.0}, {70.0, 1751.6}, {0.0, 32650.8}}});
  ASSERT_TRUE(curve) << curve.error().what;
  EXPECT_NEAR(curve->a, 1.129158e-3, 5e-10);  // computed apart
  EXPECT_NEAR(curve->b, 2.341228e-4, 5e-11);
  EXPECT_NEAR(curve->c, 8.768272e-8, 5e-14);
  EXPECT_NEAR(thermistor_celsius(*curve, 678.63).value_or(NAN), 99.9899, 5e-5);
  EXPECT_NEAR(thermistor_celsius(*curve, 32650.8).value_or(NAN), 0.0, 1e-9);
  EXPECT_NEAR(thermistor_celsius(*curve, 10000.0).value_or(NAN), 25.0, 1e-9);
  EXPECT_NEAR(thermistor_celsius(*curve, 1751.6).value_or(NAN), 70.0, 1e-9);
}

TEST(ThermistorCurve, OfBetaFollowsItsFormula) {
  const auto curve = beta_thermistor(10000.0, 3950.0);
  ASSERT_TRUE(curve);
  constexpr std::array<std::array<double, 3>, 4> points{{{0.0, 33620.6, 0.05},
                                                         {50.0, 3588.18, 0.005},
                                                         {100.0, 697.52, 0.005},
                                                         {150.0, 199.68, 0.005}}};
  for (const auto& [celsius, ohm, half_last_digit] : points) {  // computed apart
    EXPECT_NEAR(thermistor_ohm(*curve, celsius), ohm, half_last_digit) << celsius;
  }
  EXPECT_FALSE(beta_thermistor(0.0, 3950.0));
  EXPECT_FALSE(beta_thermistor(10000.0, -1.0));
}

TEST(ThermistorCurve, TheInverseGivesBackEveryTemperature) {
  for (double t = -40.0; t <= 300.0; t += 2.9) {
    EXPECT_NEAR(thermistor_celsius(ten_kilohm, thermistor_ohm(ten_kilohm, t)).value_or(NAN), t,
                1e-9);
  }
}

TEST(ThermistorCurve, RefusesPointsOfNoThermistor) {
  EXPECT_FALSE(fit_thermistor({{{0.0, 10000.0}, {25.0, 20000.0}, {70.0, 1000.0}}}));
  EXPECT_FALSE(fit_thermistor({{{0.0, 10000.0}, {0.0, 9000.0}, {70.0, 1000.0}}}));
  EXPECT_FALSE(fit_thermistor({{{0.0, 10000.0}, {25.0, 9000.0}, {70.0, 0.0}}}));
  EXPECT_FALSE(fit_thermistor({{{0.0, 10000.0}, {25.0, 9990.0}, {70.0, 10.0}}}));
  EXPECT_FALSE(thermistor_celsius(ten_kilohm, 0.0));
  EXPECT_FALSE(thermistor_celsius(ten_kilohm, NAN));
}

// Source: ISO 2533 / ICAO standard atmosphere, values at geopotential heights.
TEST(Water, ThePressureIsThatOfTheStandardAtmosphere) {
  constexpr std::array<std::array<double, 2>, 4> table{
      {{0, 101325.0}, {1000, 89874.6}, {2000, 79495.2}, {3000, 70108.5}}};
  for (const auto& [H, pascal] : table) {
    const double z = 6356766.0 * H / (6356766.0 - H);
    EXPECT_NEAR(standard_pressure_pa(z), pascal, 0.06) << H;
  }
}

// Source: IAPWS-IF97 release, tables 35 and 36 (check values of region 4).
TEST(Water, SaturationMatchesTheCheckValuesOfIapws) {
  EXPECT_NEAR(saturation_pressure_pa(300.0 - 273.15), 3536.58941, 5e-6);
  EXPECT_NEAR(saturation_pressure_pa(500.0 - 273.15), 2.63889776e6, 0.005);
  EXPECT_NEAR(saturation_pressure_pa(600.0 - 273.15), 12.3443146e6, 0.05);
  EXPECT_NEAR(boiling_point_c(0.1e6), 372.755919 - 273.15, 5e-7);
  EXPECT_NEAR(boiling_point_c(1e6), 453.035632 - 273.15, 5e-7);
  EXPECT_NEAR(boiling_point_c(10e6), 584.149488 - 273.15, 5e-7);
}

// Source: a kitchen table of boiling points by height, whole tenths of degF (read second-hand);
// such tables come from older steam formulas and rounded atmospheres and differ among each other by
// 0.2.
TEST(Water, BoilsWhereKitchenTablesSay) {
  constexpr std::array<std::array<double, 2>, 8> table{{{0, 212.0},
                                                        {1000, 210.2},
                                                        {2000, 208.4},
                                                        {3000, 206.6},
                                                        {5000, 203.0},
                                                        {7000, 199.3},
                                                        {9000, 195.5},
                                                        {10000, 193.6}}};
  for (const auto& [feet, degf] : table) {
    const double boils_c = boiling_point_c(standard_pressure_pa(feet * 0.3048));
    EXPECT_NEAR(boils_c * 1.8 + 32.0, degf, 0.2) << feet;
  }
}

TEST(Water, FreezesAtZeroInAnyKitchen) {
  EXPECT_EQ(ice_point_c(101325.0), 0.0);
  EXPECT_NEAR(ice_point_c(standard_pressure_pa(3000.0)), 0.0, 0.004);
}

}  // namespace
}  // namespace pitwright::thermometer
