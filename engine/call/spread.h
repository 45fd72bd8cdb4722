#pragma once

#include <optional>
#include <vector>

#include "call/tables.h"

namespace pitwright::call {

/// The spread, hottest minus coolest level spot, at a setting.
///   value: median over joint draws of the spots' laws, the runs drawn in towards the level as far
///          as their scatter is no more than their error, for a maximum minus a minimum of noisy
///          numbers is too large;
///   range: [largest lower limit (>= 0), largest upper limit] of the simultaneous ranges of all
///          pairwise differences, each widened by its two probes: at least 1 - error.
/// Empty where the setting was not counted or there are fewer than two level spots.
std::optional<Estimate> spread_at(const Tables& tables, const Panel& panel, int setting,
                                  double error);

/// The change of the spread. Probe errors cancel in each pair's change; they matter only for which
/// pair it is. With P the pairs that may be widest at `from`, Q at `to` (their widened ranges reach
/// the largest lower limit; a fifth of the error):
///   low  = least lower limit of the change of a pair in P
///   high = largest upper limit of the change of a pair in Q
/// because spread_to - spread_from is at least the change of the pair that is widest at `from` and at
/// most that of the pair that is widest at `to`. At least 1 - error.
std::optional<Estimate> spread_change(const Tables& tables, const Panel& panel, int from, int to,
                                      double error);

/// The pair that is widest by posterior mean at a setting; -1 where there is none.
int widest_pair(const Tables& tables, int setting);

}  // namespace pitwright::call
