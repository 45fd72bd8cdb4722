#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "db/records.h"

namespace pitwright::http {

/// A moment of RFC 3339 with its offset, such as 2026-05-02T13:05:00.25-05:00, to the microsecond.
/// Fails: bad_input, also outside the years 1970 to 2200.
Result<db::Stamp> parse_stamp(std::string_view text);

/// The same moment in UTC: "2026-05-02T18:05:00.250000Z", the fraction only where there is one.
std::string stamp_text(db::Stamp stamp);

}  // namespace pitwright::http
