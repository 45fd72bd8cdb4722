#include "report/json_values.h"

#include <cmath>

#include <nlohmann/json.hpp>

#include "report/text_width.h"

namespace pitwright::report {

nlohmann::ordered_json json_number(std::optional<double> value, int decimals) {
  if (!value || !std::isfinite(*value)) return nullptr;
  const double power = std::pow(10.0, decimals);
  const double rounded = std::round(*value * power) / power;
  return rounded == 0.0 ? 0.0 : rounded;
}

nlohmann::ordered_json json_name(const std::string& name) {
  if (name.empty()) return nullptr;
  return clean_name(name);
}

}  // namespace pitwright::report
