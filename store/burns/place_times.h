#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "burns/moments.h"
#include "pit/burn.h"

namespace pitwright::burns {

/// Stints in order, never overlapping; missing ends filled in and said.
/// Fails: bad_input with file, line and column.
Result<std::vector<Stint>> stints_of(const Moments& moments, const Pit& pit,
                                     std::vector<std::string>& assumed);

/// Events in order of time. Fails like stints_of; also where a channel or piece is not known.
Result<std::vector<Event>> events_of(const Moments& moments, const Burn& burn,
                                     std::vector<std::string>& assumed);

/// Pieces with their times. Fails like stints_of.
Result<std::vector<Piece>> pieces_of(const Moments& moments);

}  // namespace pitwright::burns
