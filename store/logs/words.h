#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace pitwright::logs {

/// ASCII letters made small.
std::string lowered(std::string_view text);

/// The words of a name in small letters: "Time_Elapsed (s)" and "TimeElapsed s" give time, elapsed,
/// s. Signs and digits part words and are dropped.
std::vector<std::string> words_of(std::string_view name);

/// Whether any of `words` is one of `known`.
bool any_of_words(std::span<const std::string> words, std::span<const std::string_view> known);

/// Whether a cell says "there is no reading": blank, NaN, n/a, null, ---, LLL, HHH, Err, open ...
bool is_missing_word(std::string_view cell);

/// Numbers inside this range are never codes for "missing".
inline constexpr double lowest_plain = -900.0;
inline constexpr double highest_plain = 9998.0;
bool is_known_code(double value);

/// Whether a number is a code for "there is no reading": -999, -9999, 9999 ... (common practice, no
/// source).
inline bool is_missing_code(double value) {
  return (value < lowest_plain || value > highest_plain) && is_known_code(value);
}

}  // namespace pitwright::logs
