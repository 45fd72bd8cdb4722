#pragma once

#include <chrono>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "documents/value.h"
#include "thermometer/roll_call.h"
#include "units/temperature.h"

namespace pitwright::documents {

/// How the temperature of boiling water was told.
struct BoilSpec {
  std::optional<double> altitude_m;  ///< one of the two is there
  std::optional<double> pressure_pa;
  double boils_c = 100.0;
};

/// What a thermometer's readings are: degrees, or what its sensor gives.
struct SensorSpec {
  std::string kind;  ///< "K", "J", "N", "T", "Pt100", "Pt1000", "NTC"; empty: degrees as shown
  std::string how;   ///< for people: "type K, cold junction at 72 F"; empty: degrees as shown
};

/// rollcall.toml as a plain value; readings are degC.
struct RollCallDocument {
  std::filesystem::path path;
  std::string title, by;
  Scale unit = Scale::fahrenheit;
  std::optional<std::chrono::year_month_day> date;
  std::optional<BoilSpec> boil;
  thermometer::Conditions conditions;
  std::vector<thermometer::Candidate> probes;
  std::vector<SensorSpec> sensors;   ///< side by side with probes
  std::vector<std::string> assumed;  ///< for people: every default and inference
};

/// Reads rollcall.toml. Fails: not_found; bad_input with file, line, column, what was expected and
/// the nearest known name.
Result<RollCallDocument> read_roll_call(const std::filesystem::path& path);

/// The same from text.
Result<RollCallDocument> parse_roll_call(std::string_view text, const std::filesystem::path& path);

/// The coarsest usual step of a display (1, 0.5, 0.2, 0.1 ... degrees) of which all readings
/// are multiples; 0.01 where they are multiples of none. Missing readings are passed over.
double step_of(const std::vector<double>& readings);

}  // namespace pitwright::documents
