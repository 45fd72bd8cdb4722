#include "logs/words.h"

#include <gmock/gmock.h>

namespace pitwright::logs {
namespace {

TEST(MissingWord, IsNoNumberAndNoName) {
  for (const char* cell :
       {"", "-", "---", "-----", "NaN", "N/A", "Open", "LLL", "hhh", "Err", "Lo"}) {
    EXPECT_TRUE(is_missing_word(cell)) << cell;
  }
  for (const char* cell : {"0", "-1", "1.5", "225 F", "Pit", "on", "not a word for missing"}) {
    EXPECT_FALSE(is_missing_word(cell)) << cell;
  }
}

TEST(MissingCode, IsOneOfAFewNumbersOnly) {
  for (const double code : {-999.0, -9999.0, -999.9, 9999.0, -32768.0}) {
    EXPECT_TRUE(is_missing_code(code)) << code;
  }
  for (const double reading : {-899.0, -99.9, 0.0, 998.0, 1260.53, 9998.0, 10'000.0, -1000.0}) {
    EXPECT_FALSE(is_missing_code(reading)) << reading;
  }
}

TEST(Words, ArePartedBySignsDigitsAndCapitals) {
  EXPECT_THAT(words_of("TimeElapsed"), testing::ElementsAre("time", "elapsed"));
  EXPECT_THAT(words_of("TIME"), testing::ElementsAre("time"));
  EXPECT_THAT(words_of("Time_Elapsed (s)2x"), testing::ElementsAre("time", "elapsed", "s", "x"));
}

}  // namespace
}  // namespace pitwright::logs
