#pragma once

#include <optional>
#include <string>
#include <vector>

#include "units/temperature.h"

namespace pitwright {

/// A shelf that food stands on, at its height above the chamber's floor.
struct Grate {
  std::string name;
  std::optional<double> height_m;
};

/// Something a cook can move: a damper, a vent, a baffle, a shelf. Either a span of a number with
/// its unit ("0 in" to "9 in") or named positions.
struct Adjustment {
  std::string name;
  std::vector<std::string> positions;  ///< named positions, or the two ends of the span as written
  bool is_span = false;
};

/// The cooker. Lengths are inside the chamber, seen from the door; every one may be unknown.
struct Pit {
  std::string name;
  std::optional<double> width_m;   ///< left to right
  std::optional<double> depth_m;   ///< door to back
  std::optional<double> height_m;  ///< floor to roof
  std::optional<Temperature> set_point;
  std::vector<Grate> grates;
  std::vector<Adjustment> adjustments;
};

}  // namespace pitwright
