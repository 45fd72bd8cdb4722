#include "logs/stamps.h"

#include <array>
#include <chrono>

#include "logs/fields.h"
#include "logs/words.h"

namespace pitwright::logs {
namespace {

/// A place in the text; every `take` moves on only when it succeeds.
struct Cursor {
  std::string_view text;
  std::size_t at = 0;

  bool done() const { return at >= text.size(); }
  char peek(std::size_t ahead = 0) const {
    return at + ahead < text.size() ? text[at + ahead] : '\0';
  }
  bool digit(std::size_t ahead = 0) const { return peek(ahead) >= '0' && peek(ahead) <= '9'; }
  bool letter() const {
    const char c = static_cast<char>(peek() | 0x20);
    return c >= 'a' && c <= 'z';
  }
  bool take(char c) {
    if (peek() != c || done()) return false;
    ++at;
    return true;
  }
  void blanks() {
    while (peek() == ' ' || peek() == '\t') ++at;
  }
  /// Up to `most` digits; the count of them.
  std::size_t number(std::size_t most, int& value) {
    const auto from = at;
    value = 0;
    while (at - from < most && digit()) value = value * 10 + (text[at++] - '0');
    return at - from;
  }
  std::string word() {
    const auto from = at;
    while (letter()) ++at;
    return lowered(text.substr(from, at - from));
  }
};

/// 1 to 12, or 0: "may", "sept", "september".
int month_of(std::string_view word) {
  static constexpr std::array<std::string_view, 12> months{
      "january", "february", "march",     "april",   "may",      "june",
      "july",    "august",   "september", "october", "november", "december"};
  if (word.size() < 3) return 0;
  for (std::size_t i = 0; i < months.size(); ++i) {
    if (months[i].starts_with(word)) return static_cast<int>(i) + 1;
  }
  return 0;
}

bool is_weekday(std::string_view word) {
  static constexpr std::array<std::string_view, 7> names{
      "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"};
  if (word.size() < 3) return false;
  for (const auto name : names) {
    if (name.starts_with(word)) return true;
  }
  return false;
}

bool set_date(int year, int month, int day, Stamp& out) {
  using namespace std::chrono;
  if (year < 1900 || year > 2999 || month < 1 || month > 12 || day < 1) return false;
  const year_month_day date{std::chrono::year(year),
                            std::chrono::month(static_cast<unsigned>(month)),
                            std::chrono::day(static_cast<unsigned>(day))};
  if (!date.ok()) return false;
  out.days = sys_days(date).time_since_epoch().count();
  out.has_date = true;
  return true;
}

/// Year with two or four digits.
bool take_year(Cursor& c, int& year) {
  const auto n = c.number(4, year);
  if (n == 2) year += 2000;
  return n == 2 || n == 4;
}

/// "May 2, 2026"; the cursor stands behind the month.
bool month_name_first(Cursor& c, int month, Stamp& out) {
  int day = 0, year = 0;
  c.blanks();
  if (c.number(2, day) == 0) return false;
  c.take(',');
  c.blanks();
  return take_year(c, year) && set_date(year, month, day, out);
}

/// Numbers a-b-c with one separator; the cursor stands behind the first.
bool three_numbers(Cursor& c, int first, std::size_t first_digits, DateOrder order, Stamp& out) {
  const char separator = c.peek();
  if (separator != '-' && separator != '/' && separator != '.') return false;
  ++c.at;
  if (c.letter()) {  // "2-May-2026"
    const int month = month_of(c.word());
    int year = 0;
    return month != 0 && c.take(separator) && take_year(c, year) &&
           set_date(year, month, first, out);
  }
  int second = 0, third = 0;
  if (c.number(2, second) == 0 || !c.take(separator)) return false;
  const auto third_digits = c.number(4, third);
  if (c.digit()) return false;
  if (first_digits == 4) return third_digits <= 2 && set_date(first, second, third, out);
  if (order == DateOrder::year_first) {
    return first_digits == 2 && third_digits <= 2 && set_date(2000 + first, second, third, out);
  }
  if (third_digits != 2 && third_digits != 4) return false;
  const int year = third_digits == 2 ? 2000 + third : third;
  out.year_last = true;
  out.order_matters = first != second;
  const bool day_first = order == DateOrder::day_first;
  return set_date(year, day_first ? second : first, day_first ? first : second, out);
}

bool take_date(Cursor& c, DateOrder order, Stamp& out) {
  if (c.letter()) {
    auto word = c.word();
    if (is_weekday(word)) {
      c.take(',');
      c.blanks();
      if (!c.letter()) return take_date(c, order, out);
      word = c.word();
    }
    const int month = month_of(word);
    return month != 0 && month_name_first(c, month, out);
  }
  int first = 0;
  const auto digits = c.number(8, first);
  if (digits == 8) {  // 20260502T130500
    const bool clock_follows =
        (c.peek() == 'T' || c.peek() == ' ' || c.peek() == '_') && c.digit(1);
    return clock_follows && set_date(first / 10000, first / 100 % 100, first % 100, out);
  }
  if (digits == 0 || digits == 3 || digits > 4) return false;
  if (digits <= 2 && c.peek() == ' ') {  // 2 May 2026
    c.blanks();
    const int month = c.letter() ? month_of(c.word()) : 0;
    int year = 0;
    c.take(',');
    c.blanks();
    return month != 0 && take_year(c, year) && set_date(year, month, first, out);
  }
  return three_numbers(c, first, digits, order, out);
}

/// Fraction of a second in [ms], digits past the third cut off.
std::int64_t take_fraction(Cursor& c, Stamp& out) {
  out.fraction_at = c.at;
  std::int64_t ms = 0;
  std::size_t n = 0;
  for (; c.digit(); ++n, ++c.at) {
    if (n < 3) ms = ms * 10 + (c.peek() - '0');
  }
  out.fraction_digits = n;
  for (; n < 3; ++n) ms *= 10;
  return ms;
}

bool take_meridiem(Cursor& c, int& hour, Stamp& out) {
  const auto before = c.at;
  c.blanks();
  const char half = static_cast<char>(c.peek() | 0x20);
  const bool dotted = c.peek(1) == '.';
  const char m = static_cast<char>(c.peek(dotted ? 2 : 1) | 0x20);
  if ((half != 'a' && half != 'p') || m != 'm') {
    c.at = before;
    return true;
  }
  c.at += dotted ? 3 : 2;
  if (dotted) c.take('.');
  if (hour < 1 || hour > 12) return false;
  hour = hour % 12 + (half == 'p' ? 12 : 0);
  out.meridiem = true;
  return true;
}

bool take_zone(Cursor& c, Stamp& out) {
  const auto before = c.at;
  c.blanks();
  if (c.letter()) {
    const auto word = c.word();
    out.has_offset = word == "z" || word == "utc" || word == "gmt";
    if (!out.has_offset) c.at = before;
    return out.has_offset;
  }
  if ((c.peek() != '+' && c.peek() != '-') || !c.digit(1)) {
    c.at = before;
    return true;
  }
  const bool west = c.peek() == '-';
  ++c.at;
  int hours = 0, minutes = 0;
  if (c.number(2, hours) != 2) return false;
  const bool colon = c.take(':');
  const auto n = c.number(2, minutes);
  if ((n != 2 && (colon || n != 0)) || hours > 15 || minutes > 59) return false;
  out.offset_min = (hours * 60 + minutes) * (west ? -1 : 1);
  out.has_offset = true;
  return true;
}

/// "13:05", "1:05:09.5 PM", and "130509" behind a date without separators.
bool take_clock(Cursor& c, bool compact, Stamp& out) {
  out.clock_at = c.at;
  int hour = 0, minute = 0, second = 0;
  std::int64_t fraction = 0;
  out.hour_digits = c.number(compact ? 2 : 4, hour);
  if (out.hour_digits == 0) return false;
  if (!c.take(':') && !compact) return false;
  if (c.number(2, minute) != 2 || minute > 59) return false;
  out.has_seconds = compact ? c.take(':') || c.digit() : c.take(':');
  if (out.has_seconds) {
    if (c.number(2, second) != 2 || second > 60) return false;
    if ((c.peek() == '.' || c.peek() == ',') && c.digit(1)) {
      ++c.at;
      fraction = take_fraction(c, out);
    }
  }
  out.clock_end = c.at;
  if (!take_meridiem(c, hour, out)) return false;
  out.clock_ms = ((hour * 60LL + minute) * 60 + second) * 1000 + fraction;
  out.has_clock = true;
  return true;
}

}  // namespace

bool parse_stamp(std::string_view text, DateOrder order, Stamp& out) {
  out = Stamp{};
  Cursor c{trimmed(text)};
  if (c.done() || c.text.size() > 64) return false;
  auto clock_first = c;
  if (clock_first.digit() &&
      (c.peek(1) == ':' || c.peek(2) == ':' || c.peek(3) == ':' || c.peek(4) == ':')) {
    if (!take_clock(clock_first, false, out) || !take_zone(clock_first, out)) return false;
    clock_first.blanks();
    if (clock_first.done()) return true;
    return take_date(clock_first, order, out) && clock_first.done() && out.clock_ms < 86'400'000;
  }
  if (!take_date(c, order, out)) return false;
  if (c.done()) return true;
  const bool compact =
      c.at == 8 && c.text.find_first_of("-/. ") >= 8 && !c.text.substr(0, 8).contains(' ');
  c.take(',');
  const auto before = c.at;
  if (!c.take('T') && !c.take('t') && !c.take('_')) c.blanks();
  if (c.at == before) return false;
  if (!take_clock(c, compact, out) || !take_zone(c, out)) return false;
  c.blanks();
  return c.done() && out.clock_ms <= 86'400'999;
}

bool is_stamp(std::string_view text) {
  Stamp stamp;
  return parse_stamp(text, DateOrder::day_first, stamp) ||
         parse_stamp(text, DateOrder::month_first, stamp);
}

}  // namespace pitwright::logs
