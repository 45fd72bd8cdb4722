#include "logs/number.h"

#include <bit>
#include <cstdlib>
#include <string>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "numeric/random.h"

namespace pitwright::logs {
namespace {

std::uint64_t bits(double value) {
  return std::bit_cast<std::uint64_t>(value);
}

/// A decimal as a logger might write it, now and then one that no logger would.
std::string random_decimal(numeric::Random& random) {
  std::string text = random.below(3) == 0 ? "-" : "";
  const int whole = random.below(random.below(10) == 0 ? 22 : 6);
  const int places = random.below(random.below(10) == 0 ? 25 : 7);
  for (int i = 0; i < whole + (places == 0 ? 1 : 0); ++i)
    text += static_cast<char>('0' + random.below(10));
  if (places > 0) text += '.';
  for (int i = 0; i < places; ++i) text += static_cast<char>('0' + random.below(10));
  if (random.below(8) == 0) text += fmt::format("e{}", random.below(40) - 20);
  return text;
}

// Source: strtod of the C library, which is exactly rounded.
TEST(Number, IsBitEqualToStrtodOverRandomDecimals) {
  constexpr std::uint64_t seed = 20260502;
  numeric::Random random(seed);
  for (int i = 0; i < 300'000; ++i) {
    const auto text = random_decimal(random);
    const double expected = std::strtod(text.c_str(), nullptr);
    const auto whole = parse_decimal(text, '.');
    ASSERT_TRUE(whole) << text;
    ASSERT_EQ(bits(whole.value_or(-1.0)), bits(expected)) << text << " seed " << seed;
    auto comma = text + "\n";
    for (char& c : comma) c = c == '.' ? ',' : c;
    double scanned = 0.0;
    ASSERT_EQ(scan_number(comma.data(), ',', scanned), comma.data() + text.size()) << text;
    ASSERT_EQ(bits(scanned), bits(expected)) << text << " seed " << seed;
  }
}

TEST(Number, RefusesWhatIsNone) {
  for (const char* text : {"", "-", "+", ".", "1.2.3", "1,5", "1e", "inf", "nan", "0x10", "1 2",
                           "--1", "1e999", "+-1"}) {
    EXPECT_FALSE(parse_decimal(text, '.')) << text;
  }
  double value = 0.0;
  for (const char* text : {"\n", "-\n", "x\n", ".\n", ",1\n"}) {
    EXPECT_EQ(scan_number(text, '.', value), nullptr) << text;
  }
}

TEST(Number, TakesSignsHalfWrittenFractionsAndTypesetMinus) {
  EXPECT_EQ(parse_decimal("+1.5", '.'), 1.5);
  EXPECT_EQ(parse_decimal("5.", '.'), 5.0);
  EXPECT_EQ(parse_decimal(".5", '.'), 0.5);
  EXPECT_EQ(parse_decimal("\xe2\x88\x92"
                          "12,5",
                          ','),
            -12.5);
  EXPECT_EQ(decimal_length("225 F", '.'), 3U);
}

}  // namespace
}  // namespace pitwright::logs
