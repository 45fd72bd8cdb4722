#pragma once

#include <string>
#include <vector>

#include "call/assemble.h"

namespace pitwright::call {

/// What each number rests on, one line each, ready to print: stints, windows, blocks, what was left
/// out, the scales of the errors. Temperatures in the scale of the burn's people, times in minutes
/// on the burn's clock.
std::vector<std::string> explain(const Evidence& evidence, const Report& report);

}  // namespace pitwright::call
