#include "documents/time_text.h"

#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstdlib>

#include <fmt/core.h>

#include "base/expects.h"
#include "documents/zones.h"

namespace pitwright::documents {
namespace {

std::string offset_text(std::int64_t whole) {
  const auto size = std::abs(whole);
  return fmt::format("{}{}:{:02}:{:02}", whole < 0 ? "-" : "", size / 3600, size / 60 % 60,
                     size % 60);
}

std::string iso_text(std::int64_t local_s, std::int64_t utc_offset_s) {
  using namespace std::chrono;
  const sys_seconds shown{seconds(local_s)};
  const auto day = floor<days>(shown);
  const year_month_day date(day);
  const hh_mm_ss time(shown - day);
  const auto minutes = std::abs(utc_offset_s) / 60;
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}{}{:02}:{:02}",
                     static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                     static_cast<unsigned>(date.day()), time.hours().count(),
                     time.minutes().count(), time.seconds().count(), utc_offset_s < 0 ? '-' : '+',
                     minutes / 60, minutes % 60);
}

}  // namespace

std::string time_text(const BurnClock& clock, double seconds) {
  expects(std::isfinite(seconds));
  if (!clock.zero) return offset_text(std::llround(seconds));
  const auto ms = clock.zero->time_since_epoch().count() + std::llround(seconds * 1000.0);
  const auto utc = static_cast<std::int64_t>(std::llround(static_cast<double>(ms) / 1000.0));
  const auto utc_offset =
      utc_offset_s(clock.timezone, std::chrono::sys_seconds(std::chrono::seconds(utc)));
  return iso_text(utc + utc_offset, utc_offset);
}

}  // namespace pitwright::documents
