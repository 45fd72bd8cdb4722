#include "pit/burn.h"

#include <algorithm>
#include <utility>

namespace pitwright {

std::string_view name_of(Role role) {
  switch (role) {
    case Role::air:
      return "air";
    case Role::dial:
      return "dial";
    case Role::food:
      return "food";
    case Role::outside:
      return "outside";
    case Role::wind:
      return "wind";
    case Role::drive:
      return "drive";
    case Role::set:
      return "set";
  }
  std::unreachable();
}

std::string_view name_of(EventKind kind) {
  switch (kind) {
    case EventKind::lid:
      return "lid";
    case EventKind::split:
      return "split";
    case EventKind::fuel:
      return "fuel";
    case EventKind::gust:
      return "gust";
    case EventKind::rain:
      return "rain";
    case EventKind::moved:
      return "moved";
    case EventKind::note:
      return "note";
  }
  std::unreachable();
}

double correction_k(const Probe& probe, double reading_c) {
  return probe.line.points.empty() ? probe.correction.kelvins()
                                   : correction_k(probe.line, reading_c);
}

std::optional<double> uncertainty_k(const Probe& probe, double reading_c) {
  if (const auto told = uncertainty_k(probe.line, reading_c)) return told;
  if (probe.uncertainty) return probe.uncertainty->kelvins();
  return std::nullopt;
}

double Burn::first_s() const {
  double first = std::numeric_limits<double>::infinity();
  for (const auto& probe : probes) {
    if (!probe.readings.seconds.empty()) first = std::min(first, probe.readings.seconds.front());
  }
  return first < std::numeric_limits<double>::infinity() ? first : 0.0;
}

double Burn::last_s() const {
  double last = -std::numeric_limits<double>::infinity();
  for (const auto& probe : probes) {
    if (!probe.readings.seconds.empty()) last = std::max(last, probe.readings.seconds.back());
  }
  return last > -std::numeric_limits<double>::infinity() ? last : 0.0;
}

}  // namespace pitwright
