#include "logs/zone.h"

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <exception>

#include <date/tz.h>

namespace pitwright::logs {
namespace {

using std::chrono::milliseconds;

std::int64_t in_ms(std::chrono::seconds s) {
  return milliseconds(s).count();
}

/// No zone has been more than this from UTC; keeps sums clear of overflow at the ends of time.
constexpr std::int64_t day_ms = 86'400'000;

}  // namespace

Result<Zone> Zone::named(const std::string& name) {
  Zone zone;
  if (name.empty() || name == "UTC" || name == "Etc/UTC" || name == "Z") return zone;
  try {
    zone.zone_ = date::locate_zone(name);
  } catch (const std::exception&) {
    return fail(
        ErrorKind::bad_input,
        "'{}' is not a known time zone; `timezone` takes names such as \"America/Chicago\" or "
        "\"UTC\"",
        name);
  }
  zone.plain_from_ = 0;  // nothing known yet: the first row asks
  zone.plain_to_ = 0;
  return zone;
}

std::optional<std::int64_t> Zone::near_change(std::int64_t wall_ms) {
  const date::local_time<milliseconds> wall{milliseconds(wall_ms)};
  const auto info = zone_->get_info(wall);
  if (info.result == date::local_info::nonexistent) return std::nullopt;
  std::int64_t ms = wall_ms - in_ms(info.first.offset);
  if (info.result == date::local_info::ambiguous) {
    ++twice_;
    const auto second = wall_ms - in_ms(info.second.offset);
    const auto expected = previous_ == never ? ms : previous_ + step_;
    if (std::abs(second - expected) < std::abs(ms - expected)) ms = second;
  } else {
    // A day clear of both changes the offset holds without asking.
    const auto begin =
        std::max<std::int64_t>(info.first.begin.time_since_epoch().count(), -4'000'000'000);
    const auto end =
        std::min<std::int64_t>(info.first.end.time_since_epoch().count(), 40'000'000'000);
    plain_from_ = begin * 1000 + day_ms;
    plain_to_ = end * 1000 - day_ms;
    plain_offset_ = in_ms(info.first.offset);
  }
  if (previous_ != never && ms > previous_) step_ = ms - previous_;
  previous_ = ms;
  return ms;
}

}  // namespace pitwright::logs
