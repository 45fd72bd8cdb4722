#include "browning/color.h"

#include <gtest/gtest.h>

namespace pitwright::browning {
namespace {

// Source: CIE 15; L* of an 18 % gray is 116 * 0.18^(1/3) - 16 = 49.496.
TEST(Lightness, OfWhiteGrayAndBlackIsTheTables) {
  EXPECT_NEAR(lightness(1.0), 100.0, 1e-9);
  EXPECT_NEAR(lightness(0.18), 49.496, 5e-4);
  EXPECT_NEAR(lightness(0.0), 0.0, 1e-9);
  // Both branches meet at (6/29)^3 = 0.008856, L* = 8.
  EXPECT_NEAR(lightness(0.008856452), 8.0, 1e-5);
}

// Source: widely published CIELAB (D65, 2 degrees) of the sRGB primaries, from memory; they are
// printed with two decimals and differ by some hundredths with the digits of the matrix.
TEST(Lab, OfThePrimariesIsThePublishedOne) {
  constexpr double matrix_digits = 0.05;
  const auto red = lab_of({1, 0, 0});
  EXPECT_NEAR(red.lightness, 53.24, matrix_digits);
  EXPECT_NEAR(red.a, 80.09, matrix_digits);
  EXPECT_NEAR(red.b, 67.20, matrix_digits);
  const auto blue = lab_of({0, 0, 1});
  EXPECT_NEAR(blue.lightness, 32.30, matrix_digits);
  EXPECT_NEAR(blue.a, 79.19, matrix_digits);
  EXPECT_NEAR(blue.b, -107.86, matrix_digits);
  const auto gray = lab_of({0.3, 0.3, 0.3});
  EXPECT_NEAR(gray.a, 0.0, 0.02);
  EXPECT_NEAR(gray.b, 0.0, 0.02);
}

// Source: IEC 61966-2-1: stored 0.5 is 21.4 % of the light; the two branches meet at 0.04045.
TEST(LinearOfSrgb, MatchesTheStandard) {
  EXPECT_NEAR(linear_of_srgb(0.5), 0.21404, 5e-6);
  EXPECT_NEAR(linear_of_srgb(0.04045), 0.0031308, 5e-7);
  EXPECT_NEAR(linear_of_srgb(0.04046), 0.0031308, 1e-5);
  EXPECT_DOUBLE_EQ(linear_of_srgb(1.0), 1.0);
}

}  // namespace
}  // namespace pitwright::browning
