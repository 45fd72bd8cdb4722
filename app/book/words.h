#pragma once

#include <chrono>
#include <string>
#include <string_view>

#include "safety/rules.h"
#include "units/temperature.h"

namespace pitwright::book {

/// "145°F", "38.5°C": whole degF, halves of a degC.
std::string degrees_text(double celsius, Scale scale);

/// A limit of a rule, printed in degF, on the page's scale.
std::string limit_text(double fahrenheit, Scale scale);

/// A row's time as the table prints it: "67 s", "4 min", "28.1 min", "1 h 52 min".
std::string dwell_text(double dwell_s);

/// "2026-04-30".
std::string date_text(std::chrono::year_month_day date);

/// "(from memory)" and the like; empty for what was read in the document.
std::string known_words(safety::Known known);

/// "read", "second-hand", "from memory": for programs.
std::string_view known_name(safety::Known known);

/// "USDA FSIS, ..., December 2021, Table 2, p. 35 (from memory)".
std::string source_text(const safety::Source& source);

}  // namespace pitwright::book
