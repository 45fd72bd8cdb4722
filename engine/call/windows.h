#pragma once

#include <optional>
#include <vector>

#include "call/panel.h"
#include "call/report.h"
#include "pit/burn.h"

namespace pitwright::call {

/// What counts of every stint, and what the pit showed of itself on the way.
struct Windows {
  std::vector<std::string> settings;  ///< in order of first appearance
  std::vector<StintCall> stints;      ///< one for each stint of the burn, in order
  std::vector<char> excluded;  ///< per panel moment: 1 where no counting (lid and its recovery)
  std::vector<LidCall> lids;   ///< and how each spot came back
  double lid_goal_k = 0.0;     ///< of a lid may be left in what counts
  std::optional<double> soaked_at_s;
  Swing swing;  ///< of the dial, else of the level
  std::vector<ChannelSwing> swings;
  std::vector<std::optional<Swing>> swing_by_setting;  ///< of the level, over what counts at each
  double lag_s = 0.0;  ///< how slowly the chamber answers a change: time constant of the approach
  double lag_low_s = 0.0, lag_high_s = 0.0;  ///< what the data leave open, about 68 %
  bool lag_borrowed = false;                 ///< the data could not tell; a common value was used
  std::vector<Trouble> troubles;             ///< soak, lids, stints
};

/// Finds soak, swing, lag, lid openings and the counting window of each stint.
/// `as_known_at_s`: the panel's end or an earlier moment; nothing later is looked at.
Windows find_windows(const Burn& burn, const Panel& panel, double as_known_at_s);

}  // namespace pitwright::call
