#include "logs/words.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

namespace pitwright::logs {
namespace {

char small(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

}  // namespace

std::string lowered(std::string_view text) {
  std::string out(text);
  std::ranges::transform(out, out.begin(), small);
  return out;
}

std::vector<std::string> words_of(std::string_view name) {
  std::vector<std::string> words;
  bool inside = false, was_small = false;
  for (const char c : name) {
    const char s = small(c);
    const bool letter = s >= 'a' && s <= 'z';
    const bool hump = was_small && c != s;
    if (letter && (!inside || hump)) words.emplace_back();
    if (letter) words.back() += s;
    inside = letter;
    was_small = letter && c == s;
  }
  return words;
}

bool any_of_words(std::span<const std::string> words, std::span<const std::string_view> known) {
  return std::ranges::any_of(words, [&](const std::string& word) {
    return std::ranges::find(known, word) != known.end();
  });
}

bool is_missing_word(std::string_view cell) {
  if (cell.empty()) return true;
  if (cell.size() > 16) return false;
  const auto first = static_cast<unsigned char>(cell.front());
  if (std::isdigit(first) != 0) return false;
  // "---", "***", "???", "..." of any length
  const auto repeated = cell.find_first_not_of(cell.front()) == cell.npos;
  if (repeated && std::string_view("-*?._#").find(cell.front()) != std::string_view::npos)
    return true;
  static constexpr std::array<std::string_view, 44> known{
      "nan",          "na",         "n/a",       "n.a.",      "null",  "none",  "nil",   "#n/a",
      "#na",          "#value!",    "#num!",     "#div/0!",   "-nan",  "nan()", "inf",   "-inf",
      "+inf",         "infinity",   "-infinity", "err",       "error", "err.",  "fault", "fail",
      "failed",       "open",       "short",     "o.l",       "ol",    "o.l.",  "over",  "under",
      "overrange",    "underrange", "lll",       "hhh",       "ll",    "hh",    "lo",    "hi",
      "disconnected", "unplugged",  "no probe",  "no reading"};
  return std::ranges::find(known, lowered(cell)) != known.end();
}

bool is_known_code(double value) {
  static constexpr std::array<double, 20> known{-999.0,   -999.9,   -999.99,  -9999.0,   -9999.9,
                                                -9999.99, -99999.0, -99999.9, -99999.99, -999999.0,
                                                -32768.0, -3276.8,  9999.0,   9999.9,    9999.99,
                                                99999.0,  99999.9,  99999.99, 32767.0,   65535.0};
  return std::ranges::find(known, value) != known.end();
}

}  // namespace pitwright::logs
