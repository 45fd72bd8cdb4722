#pragma once

#include <optional>
#include <span>
#include <vector>

#include "call/seen.h"
#include "pit/burn.h"

namespace pitwright::call {

/// How slowly the chamber answers a change of setting.
struct Lag {
  double lag_s, low_s, high_s;  ///< time constant of the approach; about 68 % between low and high
  bool is_borrowed;             ///< the changes are too small to tell; a common value stands in
};

/// One time constant for the burn, from how its spots (against the level) and its level went to
/// their new places after each change:
///   y(t) = a + b t + delta (1 - exp(-(t - t_change) / lag)) + AR(1) noise, over one change
/// with a, b, delta and the noise of each series its own; profile likelihood on a grid of lags,
/// times a wide prior (median 6 min, a factor of 2.2 either way at one sd).
Lag lag_of(const Burn& burn, const Seen& seen, std::optional<double> period_s);

/// Size of what a change at `change` did to each spot and (last) to the level, given the lag [K],
/// less one standard error, never below zero. Without a stretch before the change, what is still
/// on its way after it.
std::vector<double> change_sizes(const Seen& seen, const ChangeMoment& change, double lag_s,
                                 std::optional<double> period_s);

}  // namespace pitwright::call
