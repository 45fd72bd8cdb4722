#pragma once

#include <string>
#include <vector>

#include "report/call_view.h"

namespace pitwright::report {

// The parts of the sentence where three or more settings were counted. `settings` ascend.

/// Which settings are most even, which are equally even, which are out; only as far as the words
/// between the spreads go.
std::string evenness_clause(const CallView& view, const std::vector<int>& settings);

/// How the heat moves from one setting to the next.
std::string moves_clause(const CallView& view, const std::vector<int>& settings);

/// What the whole chamber did.
std::string levels_clause(const CallView& view, const std::vector<int>& settings);

}  // namespace pitwright::report
