#pragma once

#include <cstdint>
#include <string_view>

#include "logs/log.h"

namespace pitwright::logs {

/// What a written time says.
struct Stamp {
  bool has_date = false;
  bool has_clock = false;
  bool has_offset = false;     ///< Z, UTC or ±hh:mm
  bool meridiem = false;       ///< AM or PM
  bool year_last = false;      ///< three numbers, the year at the end
  bool order_matters = false;  ///< numbers for day and month that differ, year at the end
  std::int64_t days = 0;       ///< date, since 1970-01-01
  std::int64_t clock_ms = 0;   ///< since midnight, or since the start: may reach past 24 h
  int offset_min = 0;          ///< east of UTC

  // Where the parts stand, for reading the next row of the same shape quickly.
  std::size_t clock_at = 0;  ///< first digit of the hour
  std::size_t hour_digits = 0;
  bool has_seconds = false;
  std::size_t fraction_at = 0;  ///< first digit; 0: none
  std::size_t fraction_digits = 0;
  std::size_t clock_end = 0;  ///< what follows is AM/PM, zone or nothing
};

/// Reads a date, a time or both: ISO 8601 (T or blank between, also without separators), numbers
/// with year first or last, English month names, h:mm[:ss[.fff]], AM/PM, Z, UTC, ±hh:mm.
/// Two-digit years are of this century. False: it is none of these.
bool parse_stamp(std::string_view text, DateOrder order, Stamp& out);

/// Whether `text` is a written time in any order of day and month.
bool is_stamp(std::string_view text);

}  // namespace pitwright::logs
