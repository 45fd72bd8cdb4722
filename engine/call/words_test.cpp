#include "call/words.h"

#include <cmath>

#include <gtest/gtest.h>

namespace pitwright::call {
namespace {

TEST(Words, TheErrorOfAllLooksSumsToFivePercent) {
  double sum = 0.0;
  for (int k = 0; k < 100000; ++k) sum += look_error(k);
  EXPECT_LE(sum, 0.05);
  EXPECT_NEAR(sum, 0.05, 1e-6);  // the rest of sum 1 / (j (j + 1)) beyond j is 1 / j
  EXPECT_EQ(look_error(0), 0.0);
  EXPECT_EQ(look_error(1), 0.0);
}

TEST(Words, SidakSharesMultiplyBackToTheWhole) {
  for (const int n : {1, 3, 24, 2016}) {
    const double each = sidak(0.013, n);
    EXPECT_NEAR(std::pow(1.0 - each, n), 1.0 - 0.013, 1e-12);
  }
}

TEST(Words, AreReadFromTheRangeAsDefined) {
  constexpr double m = 10.0;
  EXPECT_EQ(word_of({10.1, 14.0}, m), Word::clear);
  EXPECT_EQ(word_of({-30.0, -10.1}, m), Word::clear);
  EXPECT_EQ(word_of({-9.9, 9.9}, m), Word::no_odds);
  EXPECT_EQ(word_of({2.0, 9.0}, m), Word::no_odds);
  EXPECT_EQ(word_of({2.0, 14.0}, m), Word::too_close);
  EXPECT_EQ(word_of({-14.0, -2.0}, m), Word::too_close);
  EXPECT_EQ(word_of({-2.0, 14.0}, m), Word::not_yet);
  EXPECT_EQ(word_of({-20.0, 20.0}, m), Word::not_yet);
  EXPECT_EQ(word_of({10.0, 12.0}, m), Word::too_close);  // not more than what matters
}

}  // namespace
}  // namespace pitwright::call
