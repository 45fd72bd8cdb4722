#include "food/steam.h"

#include <array>
#include <cmath>
#include <fstream>
#include <sstream>
#include <string>

#include <gtest/gtest.h>

#include "food/air.h"

namespace pitwright::food {
namespace {

// Source: IAPWS-IF97, tables 35 and 36 (computer-program verification values).
TEST(Saturation, MatchesTheVerificationValuesOfIf97) {
  EXPECT_NEAR(saturation_pressure(300 - 273.15), 3536.58941, 5e-6);
  EXPECT_NEAR(saturation_pressure(500 - 273.15), 2.63889776e6, 5e-3);
  EXPECT_NEAR(saturation_pressure(600 - 273.15), 12.3443146e6, 5e-2);
  EXPECT_NEAR(boiling_point(0.1e6) + 273.15, 372.755919, 5e-7);
  EXPECT_NEAR(boiling_point(1e6) + 273.15, 453.035632, 5e-7);
  EXPECT_NEAR(boiling_point(10e6) + 273.15, 584.149488, 5e-7);
}

// Heights by ISO 2533, boiling points by IF97; worked out apart from this code.
TEST(Saturation, WaterBoilsColderHigherUp) {
  EXPECT_NEAR(boiling_point(pressure_at(1500)), 94.983, 5e-4);
  EXPECT_NEAR(boiling_point(pressure_at(0)), 99.974, 5e-4);
  EXPECT_NEAR(pressure_at(1500), 84556.0, .06);
}

// The ASHRAE form of the wet bulb, worked out apart from this code in double precision.
TEST(WetBulb, OfDryHotAirIsThatOfTheTable) {
  struct Row {
    double air, humidity, wet;
  };
  constexpr double last_digit = 5.1e-3;
  for (const auto& r :
       {Row{107.2222, .0020, 33.17}, Row{107.2222, .0150, 38.37}, Row{107.2222, .1000, 56.60},
        Row{107.2222, .5000, 79.41}, Row{93.3333, .0100, 34.25}, Row{135, .0300, 46.14},
        Row{176.6667, .2000, 69.20}, Row{162.7778, .0050, 42.34}}) {
    EXPECT_NEAR(wet_bulb(r.air, r.humidity), r.wet, last_digit) << r.air << ' ' << r.humidity;
  }
  for (const auto& [rh, wet] :
       {std::pair{.01, 35.78}, {.05, 46.39}, {.20, 67.66}, {.50, 88.30}, {.70, 97.12}}) {
    EXPECT_NEAR(wet_bulb(107.2222, humidity_ratio(rh, 107.2222)), wet, last_digit) << rh;
  }
  EXPECT_NEAR(wet_bulb(107.2222, .010, pressure_at(1500)), 33.71, last_digit);
  EXPECT_NEAR(wet_bulb(107.2222, .010, pressure_at(3000)), 30.84, last_digit);
}

// Outside check: PsychroLib, values and script in data/reference/wet_bulbs. It has another formula
// for saturation (ASHRAE's), which differs from IF97 by up to 3e-4.
TEST(WetBulb, AgreesWithPsychroLib) {
  std::ifstream file(PITWRIGHT_SOURCE_DIR "/data/reference/wet_bulbs/expected.csv");
  std::string line;
  ASSERT_TRUE(std::getline(file, line));
  int rows = 0;
  while (std::getline(file, line)) {
    std::array<double, 6> v{};
    std::istringstream cells(line);
    char comma = 0;
    for (auto& x : v) cells >> x >> comma;
    const auto [air, pressure, humidity, wet, dew, saturation] = v;
    EXPECT_NEAR(wet_bulb(air, humidity, pressure), wet, .02) << line;
    if (dew > 0) {  // below it is a frost point
      EXPECT_NEAR(dew_point(humidity, pressure), dew, .02) << line;
    }
    EXPECT_NEAR(saturation_pressure(air), saturation, 3e-4 * saturation) << line;
    ++rows;
  }
  EXPECT_EQ(rows, 77);
}

TEST(Humidity, CannotReachNinetyPercentAboveTheBoilingPoint) {
  EXPECT_NEAR(100 * highest_relative_humidity(107.222), 77.64, 5.1e-3);
  EXPECT_NEAR(100 * highest_relative_humidity(121.111), 49.25, 5.1e-3);
  EXPECT_NEAR(100 * highest_relative_humidity(162.778), 15.28, 5.1e-3);
  EXPECT_NEAR(dew_point(.0150), 20.3, .05);
  EXPECT_NEAR(100 * relative_humidity(.0150, 107.222), 1.83, 5e-3);
  EXPECT_NEAR(humidity_ratio(.5, 20), .007263, 5e-7);
}

// Correlations of Churchill & Chu and Churchill & Bernstein, worked out apart from this code.
TEST(Transfer, AroundACylinderIsThatOfTheCorrelations) {
  EXPECT_NEAR(still_air_transfer(.10, 60, 107.2), 5.316, 5e-3);
  EXPECT_NEAR(still_air_transfer(.15, 60, 107.2), 5.04, 5.1e-3);
  EXPECT_NEAR(moving_air_transfer(.10, .5, 60, 107.2), 7.41, 5.1e-3);
  EXPECT_NEAR(moving_air_transfer(.10, 3, 60, 107.2), 19.42, 1e-2);
  EXPECT_NEAR(radiation_transfer(.9, 60, 107.2), 9.309, 1e-3);
  EXPECT_NEAR(mass_transfer(10), .011067, 5e-7);
}

}  // namespace
}  // namespace pitwright::food
