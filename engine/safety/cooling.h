#pragma once

#include <optional>

#include "safety/record.h"

namespace pitwright::safety {

/// No food that takes a probe cools faster [K/s] (3 K/min; our own choice).
inline constexpr double fastest_cooling_k_s = 3.0 / 60.0;

/// When the last cooling began: the last moment after which the warmest spot stays below the
/// rule's first temperature; empty where it was never above it, or is not below it at the end.
std::optional<double> cooling_began(const Trace& trace, const Rule& rule);

/// The steps of a cooling rule against the trace's end. The clock of a step begins with the last
/// moment at or above its upper temperature and ends when the warmest spot reads its lower one; a
/// step that began in a gap counts from the last reading before it. A step is met only if the
/// warmest spot plus tolerance was down in time.
Cooled cooled_of(const Trace& trace, const Rule& rule, bool was_chosen, double began_s);

}  // namespace pitwright::safety
