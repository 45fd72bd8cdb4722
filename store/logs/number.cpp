#include "logs/number.h"

#include <cmath>

#include <fast_float/fast_float.h>

namespace pitwright::logs {
namespace {

constexpr std::string_view minus_sign = "\xe2\x88\x92";  // U+2212

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// Reads an unsigned number: digits first, or the decimal mark and a digit.
const char* scan_unsigned(const char* from, const char* end, char decimal, double& value) {
  const bool starts = from != end && (is_digit(*from) ||
                                      (*from == decimal && from + 1 != end && is_digit(from[1])));
  if (!starts) return nullptr;
  const fast_float::parse_options options(fast_float::chars_format::general, decimal);
  const auto [past, error] = fast_float::from_chars_advanced(from, end, value, options);
  return error == std::errc() && std::isfinite(value) ? past : nullptr;
}

/// Reads a signed number; the place after it or nullptr.
const char* scan_signed(std::string_view text, char decimal, double& value) {
  bool negative = false;
  if (text.starts_with(minus_sign)) {
    negative = true;
    text.remove_prefix(minus_sign.size());
  } else if (text.starts_with('-') || text.starts_with('+')) {
    negative = text.front() == '-';
    text.remove_prefix(1);
  }
  const auto* past = scan_unsigned(text.data(), text.data() + text.size(), decimal, value);
  if (past != nullptr && negative) value = -value;
  return past;
}

}  // namespace

std::optional<double> parse_decimal(std::string_view text, char decimal) {
  double value = 0.0;
  if (scan_signed(text, decimal, value) != text.data() + text.size()) return std::nullopt;
  return value;
}

std::size_t decimal_length(std::string_view text, char decimal) {
  double value = 0.0;
  const auto* past = scan_signed(text, decimal, value);
  return past == nullptr ? 0 : static_cast<std::size_t>(past - text.data());
}

const char* detail::scan_long_number(const char* from, char decimal, double& value) {
  const char* end = from;
  while (is_digit(*end) || *end == decimal || *end == 'e' || *end == 'E' || *end == '-' ||
         *end == '+') {
    ++end;
  }
  return scan_signed({from, static_cast<std::size_t>(end - from)}, decimal, value);
}

}  // namespace pitwright::logs
