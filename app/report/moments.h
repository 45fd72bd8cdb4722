#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "pit/burn.h"

namespace pitwright::report {

/// A moment for people: "13:05" on the burn's own wall clock, with the day in front ("3 May 00:40")
/// where the burn runs past midnight; "0:35" (h:mm since the first sample) where it has no zero.
std::string moment_text(const Burn& burn, double seconds);

/// The day the burn began, "2 May 2026"; empty where it has no zero.
std::string day_text(const Burn& burn);

/// A length of time for people: "40 s", "6 min 50 s", "35 min", "3 h 35 min". Seconds are rounded
/// to ten and told below ten minutes only.
std::string duration_text(double seconds);

/// "18 min", or "14 to 18 min" where the two differ.
std::string duration_range_text(double least_s, double most_s);

/// A moment typed by a person, on the burn's clock [s]: an ISO stamp with or without an offset
/// ("2026-05-02T14:10"), a time of day ("14:10", the first after the burn began) or a time since
/// the first sample ("+0:35", "35 min"). Where the burn has no zero "0:35" is h:mm since the first
/// sample.
/// Fails: bad_input where it is none of these or lies outside the burn.
Result<double> parse_moment(std::string_view text, const Burn& burn);

}  // namespace pitwright::report
