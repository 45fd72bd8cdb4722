#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "call/report.h"
#include "pit/burn.h"

namespace pitwright::samples {

// Short makers, so that a sample reads as a table. All numbers are given in degF, as a cook would
// write them, and turned into degC and K.

/// A reading [degF] +- half [degF degrees].
call::Estimate reading(double fahrenheit, double half);

/// A difference [degF degrees] +- half.
call::Estimate difference(double degrees, double half);

/// The same estimate for settings 0, 1, ...
std::vector<call::SettingEstimate> at_settings(const std::vector<call::Estimate>& estimates,
                                               double probe_degrees = 0.0);

/// A change whose word's range is `word_half` wide either way [degF degrees].
call::Change change(std::pair<int, int> pair, double degrees, double half, double word_half,
                    call::Word word, std::optional<int> needs = {});

/// A change that trouble spoiled.
call::Change muddled(std::pair<int, int> pair, double degrees, double half,
                     std::vector<call::TroubleIndex> because);

/// A burn with a title, a clock (13:00 local on 2 May 2026 in Chicago) and readings every 10 s for
/// `minutes`.
Burn burn_of(const std::string& title, double minutes);

/// Adds a probe to a burn; x, y, z in [m].
void add_probe(Burn& burn, const std::string& channel, Role role, const std::string& spot, double x,
               double y, double z);

/// Stints of equal length one after the other, the last `counted_min` of each counted.
std::vector<call::StintCall> stints_of(const std::vector<int>& order, double first_min,
                                       double length_min, double counted_min);

}  // namespace pitwright::samples
