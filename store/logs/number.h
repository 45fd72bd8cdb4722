#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

namespace pitwright::logs {

/// A decimal number, exactly rounded: sign, digits, `decimal`, exponent. nullopt for anything else,
/// infinities and NaN included. U+2212 is a minus sign too.
std::optional<double> parse_decimal(std::string_view text, char decimal);

/// Length of the decimal number at the start of `text`; 0: there is none.
std::size_t decimal_length(std::string_view text, char decimal);

namespace detail {
inline constexpr std::array<double, 23> powers_of_ten{
    1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
    1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
const char* scan_long_number(const char* from, char decimal, double& value);
}  // namespace detail

/// Reads the number at `p`, for the fast way through a table. The place after it; nullptr where
/// none begins at `p`. Exactly rounded: a whole number below 2^53 and a power of ten up to 22 are
/// both doubles, so their quotient is rounded once. Pre: the text from `p` holds a character that
/// no number has, such as '\n'. Source: Clinger, "How to read floating point numbers accurately",
/// PLDI 1990, section 3.
inline const char* scan_number(const char* p, char decimal, double& value) {
  const char* const from = p;
  const bool negative = *p == '-';
  p += negative ? 1 : 0;
  const char* const digits = p;
  std::uint64_t whole = 0;
  const auto digit = [](char c) { return static_cast<unsigned>(c) - unsigned{'0'}; };
  for (; digit(*p) < 10; ++p) whole = whole * 10 + digit(*p);
  auto count = p - digits;
  std::size_t places = 0;
  if (*p == decimal) {
    const char* const point = ++p;
    for (; digit(*p) < 10; ++p) whole = whole * 10 + digit(*p);
    places = static_cast<std::size_t>(p - point);
    count += p - point;
  }
  if (count == 0) return nullptr;
  // 18 digits fit 64 bits; more, or an exponent, go the long way.
  if (count > 18 || whole >> 53 != 0 || *p == 'e' || *p == 'E') {
    return detail::scan_long_number(from, decimal, value);
  }
  const double size = static_cast<double>(whole) / detail::powers_of_ten[places];
  value = negative ? -size : size;
  return p;
}

}  // namespace pitwright::logs
