#include "units/temperature.h"

#include <cmath>

#include <gtest/gtest.h>

namespace pitwright {
namespace {

// Source: by definition of the scales, t_F = 1.8 t_C + 32 (NIST SP 811, Appendix B.8, from memory).
TEST(TemperatureScales, MeetAtMinusFortyAndAtTheWaterPoints) {
  EXPECT_DOUBLE_EQ(degC(-40).fahrenheit(), -40.0);
  EXPECT_DOUBLE_EQ(degF(32).celsius(), 0.0);
  EXPECT_DOUBLE_EQ(degF(212).celsius(), 100.0);
  EXPECT_DOUBLE_EQ(degC(0).kelvins(), 273.15);
}

TEST(TemperatureDelta, NineFahrenheitDegreesAreFiveKelvins) {
  EXPECT_DOUBLE_EQ(TemperatureDelta::from_fahrenheit_degrees(9).kelvins(), 5.0);
  EXPECT_DOUBLE_EQ((degF(284) - degF(275)).kelvins(), 5.0);
}

TEST(TemperatureScales, TenthsOfFahrenheitComeBackEqual) {
  for (int tenths = -400; tenths <= 9000; ++tenths) {
    const double f = tenths / 10.0;
    EXPECT_EQ(std::round(degF(f).fahrenheit() * 10.0) / 10.0, f);
  }
}

}  // namespace
}  // namespace pitwright
