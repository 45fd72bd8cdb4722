#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "units/temperature.h"

namespace pitwright::rehearsal {

// Pieces of TOML as text. Everything quoted is escaped.

std::string toml_string(std::string_view text);
std::string toml_list(const std::vector<std::string>& texts);
/// "12.5 cm", quoted; a tenth of a millimetre at best.
std::string length_text(double metres);
/// "275 F", quoted, to a tenth.
std::string temperature_text(Temperature temperature, Scale scale);
std::string_view scale_letter(Scale scale);

/// "2026-05-02T13:05:00": what a clock in that zone shows, whole seconds unless it has fractions.
/// Pre: the zone is an IANA name that this machine knows, or empty for UTC
std::string local_time(Instant instant, const std::string& timezone);

}  // namespace pitwright::rehearsal
