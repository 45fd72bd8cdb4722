#pragma once

#include <span>
#include <vector>

#include "call/panel.h"
#include "pit/burn.h"

namespace pitwright::call {

/// A panel as far as it is known: nothing after `end_s` is in it.
struct Seen {
  double start_s = 0.0, step_s = 1.0;
  int n = 0;
  std::vector<std::span<const double>> spots;  ///< into the panel; each of n
  std::vector<double> level;    ///< what the spots have in common, n; NaN where none is good
  std::vector<double> offsets;  ///< of each spot against the level, mean over the burn
  std::vector<char> excluded;   ///< lid and its recovery, n

  double time_of(int j) const { return start_s + (j + 0.5) * step_s; }
  double end_s() const { return start_s + n * step_s; }
  /// The first moment at or after t, within 0 .. n.
  int index_of(double t) const;
};

Seen seen_of(const Panel& panel, double as_known_at_s);

/// A moment at which the setting changed.
struct ChangeMoment {
  int stint;  ///< the stint that begins here
  double at_s;
  double before_from_s, before_to_s;  ///< the stretch at the setting before
  double after_to_s;                  ///< end of the stretch at the setting after
};

/// The changes of setting of a burn; adjacent stints of one setting are one stretch.
std::vector<ChangeMoment> changes_of(const Burn& burn);

/// True where stint k carries on with the setting of the stint before it, without a pause.
bool carries_on(const Burn& burn, std::size_t stint);

}  // namespace pitwright::call
