#pragma once

#include <optional>
#include <string_view>

#include "base/result.h"
#include "units/temperature.h"

namespace pitwright {

/// A number as people type it: optional sign, digits, decimal point, exponent; blanks around it are
/// passed over. nullopt for anything else, infinities and NaN included.
std::optional<double> parse_number(std::string_view text);

/// "F", "°F", "degF", "Fahrenheit" and the same for Celsius, in any case; nullopt otherwise.
std::optional<Scale> parse_scale(std::string_view text);

/// A point on a thermometer: "275 F", "135C", "408 K". A bare number takes `bare`, the file's unit.
/// Fails: bad_input where the text is not a temperature, or is bare and `bare` is empty.
Result<Temperature> parse_temperature(std::string_view text, std::optional<Scale> bare);

/// A difference of temperatures: "10 F", "-1.5C", "5 K". Fails like parse_temperature.
Result<TemperatureDelta> parse_temperature_delta(std::string_view text, std::optional<Scale> bare);

/// A length in [m]: "36 in", "3 ft", "45 cm", "450 mm", "0.45 m". Fails: bad_input; a bare number
/// is refused.
Result<double> parse_length_m(std::string_view text);

/// A mass in [kg]: "8.4 lb", "12 oz", "3.8 kg", "450 g". Fails: bad_input; a bare number is
/// refused.
Result<double> parse_mass_kg(std::string_view text);

/// A pressure in [Pa]: "840 hPa", "84.0 kPa", "24.8 inHg", "630 mmHg", "840 mbar". Fails:
/// bad_input; a bare number is refused.
Result<double> parse_pressure_pa(std::string_view text);

/// Elapsed time: "35 min", "+7 min 20 s", "-1 h 5 min", "0:35" (h:mm), "0:35:10" (h:mm:ss), "90 s".
/// Fails: bad_input; a bare number is refused.
Result<Seconds> parse_elapsed(std::string_view text);

}  // namespace pitwright
