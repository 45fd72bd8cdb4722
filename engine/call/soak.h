#pragma once

#include <optional>

#include "call/seen.h"
#include "pit/burn.h"

namespace pitwright::call {

/// How far the pit's warm-up has come.
struct Soak {
  std::optional<double> soaked_at_s;  ///< empty: not yet, or it cannot be told
  bool is_unknown = false;            ///< the rest may well be small, but swing or gusts hide it
  double wait_s = 0.0;  ///< from the last known moment until it should be told; 0 when soaked
  double rest_amplitude_k = 0.0, time_constant_s = 0.0, from_s = 0.0;  ///< the modelled warm-up
  bool is_cold = false;  ///< the log starts below heat
  double heat_at_s =
      0.0;  ///< when the pit first reached heat; the log's start where it is not cold

  /// What is still to come at t, as modelled [K]. Where too little was seen for a fit: what heat
  /// not yet reached may leave (15 K) and a common time constant (30 min).
  double rest_at(double t) const;
};

/// Fits the warm-up to what was seen:
///   L(t) = base + effect of the setting, approached with the lag - rest exp(-(t - t0) / tau)
///          + straight drift + random walk + block noise
/// with priors on all but base and rest, over grids of tau and of the walk's size. Soaked from the
/// first moment at which the rest still to come within one stint is below a quarter of *matters*
/// with 90 % probability, and no earlier than 20 min after the pit first reached heat. A log that
/// starts hot and does not make a warm-up likelier than none is soaked from its start.
/// The spots farthest from the level are asked the same way, at higher odds.
Soak soak_of(const Burn& burn, const Seen& seen, double lag_s, std::optional<double> period_s);

}  // namespace pitwright::call
