#include "logs/unit_words.h"

#include <gmock/gmock.h>

namespace pitwright::logs {
namespace {

using testing::ElementsAre;
using U = ChannelUnit;

TEST(UnitWord, IsKnownInAnyDress) {
  for (const char* word : {"F", "°F", "degF", "deg F", "Fahrenheit",
                           "\xB0"
                           "F",
                           "℉", "º F"}) {
    EXPECT_EQ(unit_of_word(word), U::fahrenheit) << word;
  }
  EXPECT_EQ(unit_of_word("degC"), U::celsius);
  EXPECT_EQ(unit_of_word("Kelvin"), U::kelvin);
  EXPECT_EQ(unit_of_word("km/h"), U::kmh);
  EXPECT_EQ(unit_of_word("kPa"), U::other);
  EXPECT_FALSE(unit_of_word("probe"));
}

TEST(UnitOfName, IsReadFromBracketsTailOrSign) {
  const std::vector<std::string> names{"Grill (°F)", "T1 [C]",   "temp_f",      "T_pipe_out_C",
                                       "Pit, K",     "Grate °C", "Air degF",    "Pit Temp F",
                                       "Fan %",      "wind_mph", "Room (left)", "V (V)"};
  EXPECT_THAT(
      units_of_names(names),
      ElementsAre(U::fahrenheit, U::celsius, U::fahrenheit, U::celsius, U::kelvin, U::celsius,
                  U::fahrenheit, U::fahrenheit, U::percent, U::mph, U::unknown, U::other));
}

TEST(UnitOfName, IsNotReadFromTheLetterOfAProbe) {
  const std::vector<std::string> letters{"probe_a", "probe_b", "probe_c",
                                         "Probe F", "C",       "Grate C"};
  EXPECT_THAT(units_of_names(letters), testing::Each(U::unknown));
  const std::vector<std::string> both{"temp_c", "temp_f"};
  EXPECT_THAT(units_of_names(both), ElementsAre(U::celsius, U::fahrenheit));
}

TEST(TimeName, IsKnownWithAndWithoutUnit) {
  for (const char* name : {"Time", "timestamp", "Date", "time_s", "Elapsed (min)", "t", "t_s",
                           "t [ms]", "seconds", "Uhrzeit"}) {
    EXPECT_TRUE(names_time(name)) << name;
  }
  for (const char* name : {"T1", "Pit", "T_water_C", "T1 [C]", "temperature", "s", "count"}) {
    EXPECT_FALSE(names_time(name)) << name;
  }
  EXPECT_EQ(time_unit_ms("time_s"), 1e3);
  EXPECT_EQ(time_unit_ms("Time (min)"), 6e4);
  EXPECT_EQ(time_unit_ms("Time (µs)"), 1e-3);
  EXPECT_FALSE(time_unit_ms("Time"));
}

}  // namespace
}  // namespace pitwright::logs
