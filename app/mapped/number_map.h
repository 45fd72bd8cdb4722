#pragma once

#include <string>
#include <vector>

#include "lay/lay.h"
#include "units/temperature.h"

namespace pitwright::mapped {

/// A measured number on a map of numbers.
struct MapNumber {
  double x_m, y_m, run_k;
};

/// A grate as rows of numbers, seen from above, the door at the bottom: runs on an even grid, those
/// measured in brackets at their places, a dot where the map is not known to within `unknown_k` at
/// 95 %. At most 80 columns wide.
std::string number_map(const lay::GrateLay& ground, const lay::Grid& value_k, const lay::Grid& sd_k,
                       const std::vector<MapNumber>& measured, double unknown_k, Scale scale);

}  // namespace pitwright::mapped
