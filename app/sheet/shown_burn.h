#pragma once

#include <string>

#include "pit/burn.h"

namespace pitwright::sheet {

/// What a sheet may tell of where and who. Settings, spots, grates, degrees, dates and times of day
/// are always told.
struct Telling {
  bool place = false;  ///< title of the burn and name of the pit, which often name a place
  bool names = false;  ///< notes, names of channels and pieces, initials
};

/// The burn without what must not be told: what is made from it cannot leak the rest. Channels are
/// named for their spot where each has one of its own, else "thermometer 1", "thermometer 2", ...;
/// equal ones stay equal.
Burn burn_to_show(const Burn& burn, const Telling& telling);

}  // namespace pitwright::sheet
