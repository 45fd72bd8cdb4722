#include "documents/zones.h"

#include <stdexcept>

#include <date/tz.h>
#include <fmt/core.h>

namespace pitwright::documents {
namespace {

/// nullptr for a name the zone table does not know.
const date::time_zone* zone_of(std::string_view name) {
  try {
    return date::locate_zone(name.empty() ? "UTC" : name);
  } catch (const std::runtime_error&) {
    return nullptr;
  }
}

}  // namespace

bool is_known_zone(std::string_view name) {
  return zone_of(name) != nullptr;
}

std::vector<std::string> zone_names() {
  std::vector<std::string> names;
  for (const auto& zone : date::get_tzdb().zones) names.push_back(zone.name());
  return names;
}

std::int64_t utc_offset_s(std::string_view zone, std::chrono::sys_seconds moment) {
  const auto* found = zone_of(zone);
  return found == nullptr ? 0 : found->get_info(moment).offset.count();
}

Result<Instant> instant_of(LocalTime local, std::string_view zone) {
  const auto* found = zone_of(zone);
  if (found == nullptr) return fail(ErrorKind::bad_input, "unknown time zone '{}'", zone);
  const date::local_time<std::chrono::milliseconds> reading(local.time_since_epoch());
  const auto info = found->get_info(reading);
  if (info.result == date::local_info::nonexistent) {
    return fail(ErrorKind::bad_input,
                "no clock in {} ever showed {}: summer time skips it; write it with its offset, "
                "such as {}-05:00",
                zone, local_text(local), local_text(local));
  }
  if (info.result == date::local_info::ambiguous) {
    return fail(ErrorKind::bad_input,
                "clocks in {} showed {} twice as summer time ended; write it with its offset, "
                "such as {}-05:00",
                zone, local_text(local), local_text(local));
  }
  return Instant(local.time_since_epoch() - info.first.offset);
}

LocalTime local_time_of(Instant instant, std::string_view zone) {
  const auto whole = std::chrono::floor<std::chrono::seconds>(instant);
  return LocalTime(instant.time_since_epoch() + std::chrono::seconds(utc_offset_s(zone, whole)));
}

std::string local_text(LocalTime local) {
  using namespace std::chrono;
  const auto day = floor<days>(local);
  const year_month_day date(day);
  const hh_mm_ss time(local - day);
  auto text = fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", static_cast<int>(date.year()),
                          static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                          time.hours().count(), time.minutes().count(), time.seconds().count());
  if (time.subseconds().count() != 0) text += fmt::format(".{:03}", time.subseconds().count());
  return text;
}

}  // namespace pitwright::documents
