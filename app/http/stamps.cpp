#include "http/stamps.h"

#include <chrono>
#include <optional>

#include <fmt/format.h>

namespace pitwright::http {
namespace {

using namespace std::chrono;

/// Reads fixed text from the front, piece by piece.
class Front {
 public:
  explicit Front(std::string_view text) : rest_(text) {}

  /// Exactly so many digits.
  int digits(std::size_t count) {
    int value = 0;
    for (std::size_t i = 0; i < count; ++i) {
      if (rest_.empty() || rest_.front() < '0' || rest_.front() > '9') {
        good_ = false;
        return 0;
      }
      value = value * 10 + (rest_.front() - '0');
      rest_.remove_prefix(1);
    }
    return value;
  }
  /// One of these characters; which one.
  char one_of(std::string_view any) {
    if (rest_.empty() || any.find(rest_.front()) == std::string_view::npos) {
      good_ = false;
      return '\0';
    }
    const char found = rest_.front();
    rest_.remove_prefix(1);
    return found;
  }
  bool next_is(char one) const { return !rest_.empty() && rest_.front() == one; }
  bool next_is_digit() const {
    return !rest_.empty() && rest_.front() >= '0' && rest_.front() <= '9';
  }
  bool is_whole() const { return good_ && rest_.empty(); }

 private:
  std::string_view rest_;
  bool good_ = true;
};

microseconds fraction(Front& front) {
  if (!front.next_is('.')) return microseconds(0);
  front.one_of(".");
  int value = 0;
  int place = 100000;
  do {
    value += front.digits(1) * place;  // beyond microseconds nothing is added
    place /= 10;
  } while (front.next_is_digit());
  return microseconds(value);
}

minutes offset(Front& front) {
  const char sign = front.one_of("Zz+-");
  if (sign == 'Z' || sign == 'z') return minutes(0);
  const int h = front.digits(2);
  front.one_of(":");
  const int m = front.digits(2);
  return (sign == '-' ? -1 : 1) * minutes(h * 60 + m);
}

std::optional<db::Stamp> moment(std::string_view text) {
  Front front(text);
  const int y = front.digits(4);
  front.one_of("-");
  const auto month_number = static_cast<unsigned>(front.digits(2));
  front.one_of("-");
  const auto day_number = static_cast<unsigned>(front.digits(2));
  front.one_of("Tt ");
  const int h = front.digits(2);
  front.one_of(":");
  const int min = front.digits(2);
  front.one_of(":");
  const int s = front.digits(2);
  const auto beyond = fraction(front);
  const auto east = offset(front);
  const year_month_day date{year(y), month(month_number), day(day_number)};
  if (!front.is_whole() || !date.ok() || y < 1970 || y > 2200 || h > 23 || min > 59 || s > 59)
    return std::nullopt;
  return sys_days(date) + hours(h) + minutes(min) + seconds(s) + beyond - east;
}

}  // namespace

Result<db::Stamp> parse_stamp(std::string_view text) {
  if (const auto found = moment(text)) return *found;
  return fail(ErrorKind::bad_input,
              "expected a moment with its offset, such as 2026-05-02T13:05:00-05:00, not '{}'",
              text.substr(0, 40));
}

std::string stamp_text(db::Stamp stamp) {
  const auto date = floor<days>(stamp);
  const year_month_day day(date);
  const hh_mm_ss clock(stamp - date);
  auto text = fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", static_cast<int>(day.year()),
                          static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()),
                          clock.hours().count(), clock.minutes().count(), clock.seconds().count());
  if (clock.subseconds().count() != 0) text += fmt::format(".{:06}", clock.subseconds().count());
  return text + "Z";
}

}  // namespace pitwright::http
