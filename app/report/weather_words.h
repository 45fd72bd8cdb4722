#pragma once

#include <string>

#include "call/report.h"
#include "units/temperature.h"

namespace pitwright::report {

/// Weather that went with the settings (weather_changed). `where` is "outside: A to B": what of the
/// weather, and the settings it went with.
std::string weather_reason(const call::Trouble& trouble, Scale scale);

/// Weather that changed and that the order of the settings set off (weather_balanced).
std::string front_reason(const call::Trouble& trouble, Scale scale);

/// What would take out the rest of it; empty where next to nothing is left.
std::string front_mend(const call::Trouble& trouble);

}  // namespace pitwright::report
