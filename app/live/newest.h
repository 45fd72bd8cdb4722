#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pit/burn.h"

namespace pitwright::live {

/// What a channel showed last.
struct Newest {
  std::string channel;
  std::string spot;  ///< empty where it has none
  Role role = Role::air;
  std::optional<double> at_s;   ///< on the burn's clock; empty: nothing yet
  std::optional<double> value;  ///< corrected; degC (km/h for wind, % for drive); empty: missing
  std::optional<double> run_k;  ///< for air: against the mean of the air spots at that moment
};

/// The newest reading of every channel where it sits now, in the burn's order. A run needs at least
/// two air spots that were heard within `patience_s` of the newest reading of all.
std::vector<Newest> newest_of(const Burn& burn, double patience_s = 180.0);

}  // namespace pitwright::live
