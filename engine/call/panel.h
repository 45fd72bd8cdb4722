#pragma once

#include <optional>
#include <string>
#include <vector>

#include "call/report.h"
#include "pit/burn.h"

namespace pitwright::call {

/// One spot on the panel's common moments: the mean of the probes that sat there, corrected.
struct PanelSpot {
  std::string spot;
  std::string channel;  ///< joined with "+" where two probes share the spot
  std::string grate;
  std::optional<double> x_m, y_m, z_m;
  double uncertainty_k = 0.0;   ///< +- at 95 % of the spot's thermometer, where it mostly reads
  double shared_k = 0.0;        ///< the part of it that moves all spots which have one together
  bool checked = false;         ///< uncertainty comes from a check, not from a default
  std::vector<double> celsius;  ///< at the panel's moments; NaN where missing or excluded
};

/// How one probe follows what all of them have in common.
struct ProbeAnswer {
  std::string channel, spot;
  double share = 0.0;     ///< of the common swing that it shows; the usual probe has 1; NaN: untold
  double late_s = 0.0;    ///< behind the usual probe
  double likeness = 0.0;  ///< correlation with the others at that delay
  std::optional<double>
      period_s;  ///< of the common swing; empty: told from irregular ups and downs
};

/// A burn on common moments: sample j is the mean of the readings in [start + j step, start + (j+1)
/// step), NaN where there were none or where they were excluded (dead, frozen, out of any range).
/// Shapes: every vector has n entries; an empty vector means the burn has no such channel.
struct Panel {
  double start_s = 0.0;
  double step_s = 10.0;
  int n = 0;
  std::vector<PanelSpot> spots;  ///< in order of first appearance of a usable air probe
  std::vector<double> dial, outside, wind;
  std::vector<ProbeAnswer> answers;  ///< of the air probes, where they can be told
  std::vector<Trouble> troubles;     ///< what the probes' own checks found
};

/// Puts a burn on common moments and checks every probe (dead, frozen, missing, jumps, touching
/// metal). The step follows the logs: the usual air channel's median interval, at least 1 s, at
/// most 20,000 moments; slower channels are bridged over 1.5 of their own interval.
Panel make_panel(const Burn& burn);

}  // namespace pitwright::call
