#pragma once

#include <vector>

#include "report/call_view.h"

namespace pitwright::report {

/// Changes seen together, of one or several tables of a call.
using Changes = std::vector<const call::Change*>;

bool any_is(const Changes& changes, call::Word word);

/// False for no changes: nothing was said.
bool all_are(const Changes& changes, call::Word word);

/// Those that trouble did not spoil.
Changes unspoiled(const Changes& changes);

/// All changes of a quantity between two of these settings.
Changes changes_among(const call::Quantity& quantity, const std::vector<int>& settings);

Changes joined(Changes first, const Changes& second);

/// Of all tilts, of all spots' runs, or of one quantity: the change between two settings.
Changes tilt_changes(const CallView& view, int from, int to);
Changes run_changes(const CallView& view, int from, int to);

/// Largest size [K] that the words of these changes leave open.
double largest_open_k(const Changes& changes);

/// The open one ("too close", "not yet") that needs the most stints; "over 12" beats every number.
/// Pre: not empty.
const call::Change& hardest(const Changes& changes);

/// Whether an open change of the level leans one way: more than a quarter of its range lies beyond
/// nothing. A manner of speaking ("may be up"), never a word.
bool leans(const call::Change& change);

}  // namespace pitwright::report
