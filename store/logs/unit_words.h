#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "logs/log.h"

namespace pitwright::logs {

/// The unit a word means: "°F", "degC", "Kelvin", "%", "km/h", "mph", "m/s"; `other` for units of
/// anything else a logger may hold (V, bar, rpm, s ...); nullopt where it is no unit.
std::optional<ChannelUnit> unit_of_word(std::string_view word);

/// Units told by the names of the columns: "Grill (°F)", "T1 [C]", "Pit, °C", "temp_f", "Grill °C".
/// `unknown` where a name tells none. A last letter is a unit only where it cannot be the name of a
/// probe: not in "probe_a", "probe_b", "probe_c".
std::vector<ChannelUnit> units_of_names(std::span<const std::string> names);

/// "°F" and so on, for people.
std::string_view unit_name(ChannelUnit unit);

bool is_temperature(ChannelUnit unit);

/// Whether a name says that the column holds no temperature: fan, humidity, wind, battery ...
bool names_no_temperature(std::string_view name);

/// Length in [ms] of the unit of time a column's name tells: "time_s", "Time (min)", "seconds".
std::optional<double> time_unit_ms(std::string_view name);

/// Whether a name says that its column holds the time.
bool names_time(std::string_view name);

/// Whether a name says that times are counted from a start.
bool names_elapsed(std::string_view name);

}  // namespace pitwright::logs
