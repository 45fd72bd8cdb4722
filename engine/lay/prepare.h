#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "call/together.h"
#include "lay/lattice.h"
#include "lay/lay.h"
#include "lay/shape.h"
#include "pit/pit.h"

namespace pitwright::lay {

/// What the call measured, put where it was measured.
struct Prepared {
  Data data;
  std::vector<int> settings;  ///< of Together, that were counted
  std::vector<std::string> uncounted;
  std::vector<LaySpot> spots;  ///< those on the map: rows of data.places
  std::vector<std::string> unplaced;
  std::vector<LayNote> notes;
  std::vector<Lattice> grates;
  std::vector<double> level_c, level_sd_k;  ///< a setting; sd without thermometers
};

/// Fails: bad_input where no setting was counted, no spot has a position, or all lie at one place.
///   A coordinate that no spot has is taken as the chamber's middle; a spot without one that others
///   have is off the map. Spots without a height sit at their grate's, else at the others' mean.
Result<Prepared> prepare(const Pit& pit, const call::Together& together, int nodes_x, int nodes_y);

}  // namespace pitwright::lay
