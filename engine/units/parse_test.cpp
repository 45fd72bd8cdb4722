#include "units/parse.h"

#include <gtest/gtest.h>

namespace pitwright {
namespace {

TEST(ParseTemperature, ReadsBothScalesAndKelvin) {
  EXPECT_DOUBLE_EQ(parse_temperature("275 F", {})->fahrenheit(), 275.0);
  EXPECT_DOUBLE_EQ(parse_temperature("135C", {})->celsius(), 135.0);
  EXPECT_DOUBLE_EQ(parse_temperature("408.15 K", {})->celsius(), 135.0);
  EXPECT_DOUBLE_EQ(parse_temperature("275 \xc2\xb0"
                                     "F",
                                     {})
                       ->fahrenheit(),
                   275.0);
}

TEST(ParseTemperature, ABareNumberTakesTheUnitOfItsFileOrIsRefused) {
  EXPECT_DOUBLE_EQ(parse_temperature("275", Scale::fahrenheit)->fahrenheit(), 275.0);
  EXPECT_FALSE(parse_temperature("275", {}));
  EXPECT_FALSE(parse_temperature("warm", Scale::fahrenheit));
  EXPECT_FALSE(parse_temperature("nan F", {}));
  EXPECT_FALSE(parse_temperature("275 X", {}));
}

TEST(ParseTemperatureDelta, NeverAddsThirtyTwo) {
  EXPECT_DOUBLE_EQ(parse_temperature_delta("9 F", {})->kelvins(), 5.0);
  EXPECT_DOUBLE_EQ(parse_temperature_delta("-1.5 F", {})->fahrenheit_degrees(), -1.5);
  EXPECT_DOUBLE_EQ(parse_temperature_delta("5 K", {})->kelvins(), 5.0);
}

TEST(ParseLength, KnowsInchesFeetAndMetric) {
  EXPECT_DOUBLE_EQ(*parse_length_m("36 in"), 0.9144);
  EXPECT_DOUBLE_EQ(*parse_length_m("3 ft"), 0.9144);
  EXPECT_DOUBLE_EQ(*parse_length_m("45cm"), 0.45);
  EXPECT_FALSE(parse_length_m("36"));
}

TEST(ParseMass, KnowsPoundsAndKilograms) {
  EXPECT_DOUBLE_EQ(*parse_mass_kg("8.4 lb"), 8.4 * 0.45359237);
  EXPECT_DOUBLE_EQ(*parse_mass_kg("450 g"), 0.45);
}

TEST(ParseElapsed, ReadsWordsAndClocks) {
  EXPECT_DOUBLE_EQ(parse_elapsed("35 min")->count(), 2100.0);
  EXPECT_DOUBLE_EQ(parse_elapsed("35min")->count(), 2100.0);
  EXPECT_DOUBLE_EQ(parse_elapsed("+7 min 20 s")->count(), 440.0);
  EXPECT_DOUBLE_EQ(parse_elapsed("-1 h 5 min")->count(), -3900.0);
  EXPECT_DOUBLE_EQ(parse_elapsed("0:35")->count(), 2100.0);
  EXPECT_DOUBLE_EQ(parse_elapsed("1:02:03.5")->count(), 3723.5);
}

TEST(ParseElapsed, RefusesWhatIsAmbiguous) {
  for (const char* text : {"35", "", "0:75", "1:2:3:4", "5 apples", "1 h -5 min", ":30", "--5 s"}) {
    EXPECT_FALSE(parse_elapsed(text)) << text;
  }
}

TEST(ParseNumber, RefusesInfinityNanAndTrailingWords) {
  EXPECT_DOUBLE_EQ(*parse_number(" -1.5e2 "), -150.0);
  for (const char* text : {"inf", "nan", "1e999", "3x", "", "+-3"}) {
    EXPECT_FALSE(parse_number(text)) << text;
  }
}

// Source: the conventional inch of mercury is 3386.389 Pa; 29.92 inHg is the standard atmosphere.
TEST(ParsePressure, TakesTheUnitsOfBarometers) {
  EXPECT_NEAR(parse_pressure_pa("29.9213 inHg").value_or(0.0), 101325.0, 0.5);
  EXPECT_NEAR(parse_pressure_pa("760 mmHg").value_or(0.0), 101325.0, 0.5);
  EXPECT_DOUBLE_EQ(parse_pressure_pa("1013.25 hPa").value_or(0.0), 101325.0);
  EXPECT_DOUBLE_EQ(parse_pressure_pa("101.325kPa").value_or(0.0), 101325.0);
  EXPECT_DOUBLE_EQ(parse_pressure_pa("840 mbar").value_or(0.0), 84000.0);
  EXPECT_FALSE(parse_pressure_pa("840"));
  EXPECT_FALSE(parse_pressure_pa("840 psi"));
}

}  // namespace
}  // namespace pitwright
