#include "report/degrees.h"

#include <gtest/gtest.h>

namespace pitwright::report {
namespace {

TEST(Degrees, DifferencesNeverGainThirtyTwo) {
  EXPECT_EQ(offset_text(5.0, Scale::fahrenheit), "+9°");  // 5 K are 9 degF by definition
  EXPECT_EQ(offset_text(-5.0, Scale::celsius), "−5°");
  EXPECT_EQ(spoken_change({5, 4, 6}, Scale::fahrenheit), "9° (7 to 11)");
  EXPECT_EQ(spoken_reading({100, 99, 101}, Scale::fahrenheit), "212° (210 to 214)");
}

TEST(Degrees, AFallTurnsItsRangeRound) {
  EXPECT_EQ(spoken_change({-14, -16, -12}, Scale::celsius), "14° (12 to 16)");
  EXPECT_EQ(spoken_change({-8, -17, 1}, Scale::celsius), "8° (−1 to 17)");
}

TEST(Degrees, NothingIsEverMinusZero) {
  EXPECT_EQ(number_text(-0.2, 0, true), "0");
  EXPECT_EQ(number_text(-0.04, 1, true), "0.0");
  EXPECT_EQ(number_text(0.3, 0, true), "0");
}

TEST(Degrees, SmallSizesAreNotRoundedAway) {
  EXPECT_EQ(size_text(0.3, Scale::celsius), "under 1°");
  EXPECT_EQ(spoken_change({0.2, 0.1, 0.3}, Scale::celsius), "0.2° (0.1 to 0.3)");
}

TEST(Degrees, ALimitIsRoundedUp) {
  EXPECT_EQ(limit_text(2.1, Scale::celsius), "3°");
  EXPECT_EQ(limit_text(-2.1, Scale::celsius), "3°");
  EXPECT_EQ(limit_text(TemperatureDelta::from_fahrenheit_degrees(10).kelvins(), Scale::fahrenheit),
            "10°");
  EXPECT_EQ(limit_text(0.0, Scale::celsius), "1°");
}

}  // namespace
}  // namespace pitwright::report
