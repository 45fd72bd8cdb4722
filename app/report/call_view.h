#pragma once

#include <string>
#include <vector>

#include "call/report.h"
#include "pit/burn.h"

namespace pitwright::report {

/// What every page of a call is made from.
struct CallView {
  const call::Report& report;
  const Burn& burn;
  Scale scale;  ///< of the page; the burn's own unless the person asked for the other
};

/// Name of a setting, fit for a terminal and JSON.
std::string setting_name(const CallView& view, int setting);

/// The name within a sentence: in quotes where it holds a comma.
std::string spoken_setting(const CallView& view, int setting);

/// Estimate of a quantity at a setting; nullptr where it was never counted.
const call::Estimate* estimate_at(const call::Quantity& quantity, int setting);

/// The change between two settings in the order the report tells it; nullptr where there is none.
const call::Change* change_between(const call::Quantity& quantity, int from, int to);

/// What the dial showed at a setting and how hot the chamber was while it did.
struct DialMeaning {
  int setting;
  double dial_c;
  call::Estimate air_c;
};

/// Of the settings between which the dial gap changes clearly: there a number on the dial does not
/// mean the same air. Ascending; empty where no such change is clear.
std::vector<DialMeaning> dial_meanings(const call::Report& report);

/// Settings with at least one counted estimate of the level, ascending.
std::vector<int> counted_settings(const call::Report& report);

/// All changes that say where the heat lies: those of the tilts, then those of the spots' runs.
std::vector<const call::Change*> lay_changes(const call::Report& report);

/// Every change that carries a word.
std::vector<const call::Change*> worded_changes(const call::Report& report);

}  // namespace pitwright::report
