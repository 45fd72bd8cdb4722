#include "report/sizes.h"

#include <cmath>

#include <fmt/format.h>

namespace pitwright::report {

std::string length_text(double meters, Scale scale) {
  constexpr double meters_per_inch = 0.0254;  // exact by the international yard
  if (scale == Scale::celsius) return fmt::format("{:.0f} cm", meters * 100.0);
  const double inches = std::round(2.0 * meters / meters_per_inch) / 2.0;
  return fmt::format("{:g} in", inches);
}

std::string chance_text(double chance) {
  if (chance < 0.025) return "under 5 %";
  if (chance > 0.975) return "over 95 %";
  return fmt::format("{:.0f} %", 5.0 * std::round(20.0 * chance));
}

std::string share_text(double share) {
  return fmt::format("{:.0f} %", 100.0 * share);
}

}  // namespace pitwright::report
