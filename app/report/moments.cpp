#include "report/moments.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <vector>

#include <fmt/format.h>

#include "documents/time_text.h"
#include "documents/zones.h"
#include "units/parse.h"

namespace pitwright::report {
namespace {

using documents::LocalTime;
using documents::time_text;

/// "2 May" of an ISO stamp.
std::string day_of(std::string_view iso) {
  static constexpr std::array months = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                        "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const auto month = static_cast<std::size_t>((iso[5] - '0') * 10 + (iso[6] - '0'));
  const int day = (iso[8] - '0') * 10 + (iso[9] - '0');
  return fmt::format("{} {}", day, months.at(month - 1));
}

/// The number of `digits` digits at `at`; nullopt where there are none.
std::optional<int> digits_at(std::string_view text, std::size_t at, std::size_t digits) {
  if (text.size() < at + digits) return {};
  int value = 0;
  const auto* first = text.data() + at;
  const auto [end, problem] = std::from_chars(first, first + digits, value);
  if (problem != std::errc{} || end != first + digits || value < 0) return {};
  return value;
}

bool has(std::string_view text, std::size_t at, std::string_view any_of) {
  return at < text.size() && any_of.find(text[at]) != std::string_view::npos;
}

/// "14:10" or "14:10:30" at the start of a text; what follows is left in `rest`.
std::optional<std::chrono::seconds> clock_at(std::string_view text, std::string_view& rest) {
  using namespace std::chrono;
  const std::size_t hour_digits = has(text, 1, ":") ? 1 : 2;
  const auto hour = digits_at(text, 0, hour_digits);
  const auto minute = digits_at(text, hour_digits + 1, 2);
  if (!hour || !minute || !has(text, hour_digits, ":") || *hour > 23 || *minute > 59) return {};
  rest = text.substr(hour_digits + 3);
  const auto second = has(rest, 0, ":") ? digits_at(rest, 1, 2) : std::optional(0);
  if (!second || *second > 59) return {};
  if (has(rest, 0, ":")) rest.remove_prefix(3);
  return hours(*hour) + minutes(*minute) + seconds(*second);
}

/// Seconds east of UTC told by "Z", "+05:30", "-0500" or "-05".
std::optional<std::chrono::seconds> told_offset(std::string_view text) {
  using namespace std::chrono;
  if (text == "Z" || text == "z") return seconds(0);
  const auto hour = digits_at(text, 1, 2);
  const std::size_t minute_at = has(text, 3, ":") ? 4 : 3;
  const auto minute = text.size() == 3 ? std::optional(0) : digits_at(text, minute_at, 2);
  const bool whole = text.size() == 3 || text.size() == minute_at + 2;
  if (!has(text, 0, "+-") || !hour || !minute || !whole) return {};
  const auto size = hours(*hour) + minutes(*minute);
  return text[0] == '-' ? -size : size;
}

std::optional<LocalTime> date_at(std::string_view text) {
  using namespace std::chrono;
  const auto year_of = digits_at(text, 0, 4);
  const auto month_of = digits_at(text, 5, 2);
  const auto day_of = digits_at(text, 8, 2);
  if (!year_of || !month_of || !day_of || text[4] != '-' || text[7] != '-') return {};
  const year_month_day date(year(*year_of), month(static_cast<unsigned>(*month_of)),
                            day(static_cast<unsigned>(*day_of)));
  if (!date.ok()) return {};
  return LocalTime(sys_days(date).time_since_epoch());
}

std::unexpected<Error> not_a_moment(std::string_view text) {
  return fail(
      ErrorKind::bad_input,
      "'{}' is not a moment such as \"14:10\", \"2026-05-02T14:10\" or \"35 min\" after the "
      "first sample",
      text);
}

double on_clock(Instant instant, const Burn& burn) {
  return std::chrono::duration<double>(instant - *burn.clock.zero).count();
}

Result<double> from_local(LocalTime local, const Burn& burn) {
  const auto instant = documents::instant_of(local, burn.clock.timezone);
  if (!instant) return std::unexpected(instant.error());
  return on_clock(*instant, burn);
}

/// A time of day: the first one that is not before the first sample.
Result<double> from_time_of_day(std::chrono::seconds time, const Burn& burn) {
  using namespace std::chrono;
  const auto begin = *burn.clock.zero + round<milliseconds>(Seconds(burn.first_s()));
  const auto local = documents::local_time_of(begin, burn.clock.timezone);
  auto wanted = LocalTime(floor<days>(local.time_since_epoch())) + time;
  if (wanted < floor<minutes>(local)) wanted += days(1);
  return from_local(wanted, burn);
}

Result<double> from_stamp(std::string_view text, const Burn& burn) {
  const auto date = date_at(text);
  std::string_view rest;
  const auto time = clock_at(text.substr(std::min<std::size_t>(11, text.size())), rest);
  if (!date || !time) return not_a_moment(text);
  if (rest.empty()) return from_local(*date + *time, burn);
  const auto offset = told_offset(rest);
  if (!offset) return not_a_moment(text);
  return on_clock(Instant((*date + *time - *offset).time_since_epoch()), burn);
}

Result<double> read_moment(std::string_view text, const Burn& burn) {
  std::string_view rest;
  if (burn.clock.zero && has(text, 10, "T ")) return from_stamp(text, burn);
  const auto time = clock_at(text, rest);
  if (burn.clock.zero && time && rest.empty()) return from_time_of_day(*time, burn);
  const auto elapsed = parse_elapsed(text);
  if (!elapsed) return not_a_moment(text);
  return elapsed->count() + (burn.clock.zero ? burn.first_s() : 0.0);
}

}  // namespace

std::string moment_text(const Burn& burn, double seconds) {
  const auto iso = time_text(burn.clock, seconds);
  if (!burn.clock.zero) return iso.substr(0, iso.size() - 3);
  const auto time = iso.substr(11, 5);
  const bool one_day = time_text(burn.clock, burn.first_s()).substr(0, 10) ==
                       time_text(burn.clock, burn.last_s()).substr(0, 10);
  return one_day ? time : day_of(iso) + " " + time;
}

std::string day_text(const Burn& burn) {
  if (!burn.clock.zero) return "";
  const auto iso = time_text(burn.clock, burn.first_s());
  return day_of(iso) + " " + iso.substr(0, 4);
}

std::string duration_text(double seconds) {
  const auto tens = std::llround(seconds / 10.0) * 10;
  if (tens < 60) return fmt::format("{} s", tens);
  if (tens < 600) {
    return tens % 60 == 0 ? fmt::format("{} min", tens / 60)
                          : fmt::format("{} min {} s", tens / 60, tens % 60);
  }
  const auto minutes = std::llround(seconds / 60.0);
  if (minutes < 60) return fmt::format("{} min", minutes);
  return minutes % 60 == 0 ? fmt::format("{} h", minutes / 60)
                           : fmt::format("{} h {} min", minutes / 60, minutes % 60);
}

std::string duration_range_text(double least_s, double most_s) {
  const auto least = duration_text(least_s);
  const auto most = duration_text(most_s);
  if (least == most) return most;
  const double minutes[] = {std::round(least_s / 60.0), std::round(most_s / 60.0)};
  const bool both_minutes = minutes[0] >= 1 && minutes[1] < 60 && minutes[0] < minutes[1];
  return both_minutes ? fmt::format("{:.0f} to {:.0f} min", minutes[0], minutes[1])
                      : least + " to " + most;
}

Result<double> parse_moment(std::string_view text, const Burn& burn) {
  const auto moment = read_moment(text, burn);
  if (!moment) return moment;
  constexpr double slack_s = 60.0;  // what moment_text shows has no seconds
  if (*moment < burn.first_s() - slack_s || *moment > burn.last_s() + slack_s) {
    return fail(ErrorKind::bad_input,
                "'{}' lies outside the burn, which runs from {} to {}; a time since its first "
                "sample is written \"+0:35\" or \"35 min\"",
                text, moment_text(burn, burn.first_s()), moment_text(burn, burn.last_s()));
  }
  return std::clamp(*moment, burn.first_s(), burn.last_s());
}

}  // namespace pitwright::report
