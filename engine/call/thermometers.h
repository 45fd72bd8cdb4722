#pragma once

#include <optional>
#include <string>
#include <vector>

#include "call/report.h"
#include "pit/burn.h"

namespace pitwright::call {

/// What a burn's own log says of one thermometer at one spot.
struct ThermometerSeen {
  std::string channel, spot;
  Role role = Role::air;
  std::optional<double> usual_c;        ///< median of its corrected readings; empty: no usable one
  double add_k = 0.0;                   ///< its correction there
  std::optional<double> uncertainty_k;  ///< +- at 95 %; empty: nobody checked it
  std::optional<double> share;          ///< of the common swing, against the usual probe
  std::optional<double> late_s;         ///< behind the usual probe
  /// Time constant more than the usual probe's that would explain the share by itself, from
  /// share = |z| |n - 2 + z| / (n - 1), z = 1 / (1 + i 2 pi T / P), for the one slow probe of n;
  /// empty where it shows as much as the others, or without a steady swing. Source: first-order
  /// lag, textbook; the second factor because the others' mean holds the slow probe.
  std::optional<double> lag_s;
};

struct ThermometersSeen {
  std::optional<double> period_s;       ///< of the swing that shares and delays are told from
  std::vector<ThermometerSeen> probes;  ///< those that measure a temperature, in the burn's order
  std::vector<Trouble> troubles;        ///< of probes and clocks
};

/// Looks at the thermometers of a burn: panel, checks and swaps as the call has them.
ThermometersSeen see_thermometers(const Burn& burn);

}  // namespace pitwright::call
