#pragma once

#include <string>

#include "report/call_view.h"

namespace pitwright::report {

/// The word as a cell of a table: "clear", "not yet, 2 more" (stints that would probably settle
/// it), "too close, over 12", "muddled [1, 3]" (numbers of the trouble list, from 1).
std::string word_cell(const call::Change& change);

/// "2 more stints would probably settle it", "even 12 more stints would probably not settle it".
std::string needs_text(const call::Change& change);

/// The state of a running burn, short enough to shout: "Counting, 11 of 20 min."
std::string live_state_text(const CallView& view);

/// Whether the running stint has counted what it needs.
bool has_counted_enough(const call::Live& live);

/// What to do next: "leave it; change to B at 14:10".
std::string live_next_text(const CallView& view);

}  // namespace pitwright::report
