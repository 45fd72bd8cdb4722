#pragma once

#include <cstddef>
#include <vector>

#include "lay/lay.h"

namespace pitwright::mapped {

/// The spots that lie on a grate (index into SettingLay::grates): by its name, else by the nearest
/// height.
std::vector<const lay::LaySpot*> spots_on(const lay::Lay& lay, std::size_t grate);

}  // namespace pitwright::mapped
