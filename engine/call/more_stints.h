#pragma once

#include "call/assemble.h"

namespace pitwright::call {

/// Fills needs_stints of every change whose word is "not yet" or "too close": the fewest further
/// stints in the best order (at most 12) after which the chance of "clear" or "no odds" is 80 % or
/// more. The model is the call's own; a future estimate scatters around today's by the variance
/// that the further stints take away.
void fill_needs_stints(const Evidence& evidence, Report& report);

}  // namespace pitwright::call
