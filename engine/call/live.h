#pragma once

#include "call/assemble.h"

namespace pitwright::call {

/// How long a stint must count before it is worth closing [s]: 20 min, or two blocks of whole
/// swings where that is longer.
double needed_s(const Swing& swing);

/// State of the running burn, as known at `now_s`: where the last stint stands, when to change and
/// to what. Next comes the setting of the open questions that has counted in the fewest stretches;
/// of those, the one left last, which mirrors the order so far (A B C, then B A).
Live live_state(const Evidence& evidence, double now_s, const Report& report);

}  // namespace pitwright::call
