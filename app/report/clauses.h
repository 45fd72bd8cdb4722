#pragma once

#include <string>
#include <vector>

#include "report/change_sets.h"

namespace pitwright::report {

// The parts of the sentence. Each is one or more whole sentences, or empty where it has nothing to
// say.

/// "14° from left to right (12 to 16)": the way the heat moved by a tilt's change.
std::string heat_moved(call::Axis axis, const call::Estimate& kelvins, Scale scale);

/// Where the heat lies, of one pair of settings.
std::string lay_clause(const CallView& view, int from, int to);

/// What the whole chamber did, of one pair of settings.
std::string level_clause(const CallView& view, int from, int to);

/// Whether one setting is more even than the other: only where that is clear.
std::string spread_clause(const CallView& view, int from, int to);

/// How the dial's error moved and what that makes of cooks by the dial: only where that is clear.
std::string dial_clause(const CallView& view, int from, int to);

/// Why the level may have followed a tilt: a controller feeds by the sensor on its own side.
std::string sensor_clause(const CallView& view, int from, int to);

/// What of these settings' questions is muddled, by what, and what would mend it: questions that
/// the same troubles spoiled are told together.
std::string muddled_clause(const CallView& view, const std::vector<int>& settings);

/// "<head>: <reasons>. <what would mend it>." of the troubles behind these changes.
std::string spoiled_text(const CallView& view, const std::string& head, const Changes& changes);

}  // namespace pitwright::report
