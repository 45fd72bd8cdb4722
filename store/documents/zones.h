#pragma once

#include <chrono>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "units/temperature.h"

namespace pitwright::documents {

/// A wall clock's reading, zone not applied yet.
using LocalTime = std::chrono::local_time<std::chrono::milliseconds>;

/// Whether the zone table knows the IANA name; the empty name means UTC and is known.
bool is_known_zone(std::string_view name);

/// All names of the zone table, for "did you mean".
std::vector<std::string> zone_names();

/// Local time minus UTC [s] at a moment; 0 for an unknown name.
std::int64_t utc_offset_s(std::string_view zone, std::chrono::sys_seconds moment);

/// The instant at which a wall clock in `zone` shows `local`.
/// Fails: bad_input where summer time skips that reading, shows it twice, or the zone is unknown.
Result<Instant> instant_of(LocalTime local, std::string_view zone);

/// What a wall clock in `zone` shows at an instant.
LocalTime local_time_of(Instant instant, std::string_view zone);

/// "2026-05-02T13:05:00", with ".250" only where there are milliseconds.
std::string local_text(LocalTime local);

}  // namespace pitwright::documents
