#pragma once

#include <string>

#include "units/temperature.h"

namespace pitwright::report {

/// A length in the chamber, to half an inch beside °F ("4.5 in") and to a centimeter beside °C ("11
/// cm").
std::string length_text(double meters, Scale scale);

/// "85 %" to the nearest 5, "under 5 %", "over 95 %": a chance from a model knows no more.
std::string chance_text(double chance);

/// "62 %" of a whole, to a hundredth.
std::string share_text(double share);

}  // namespace pitwright::report
