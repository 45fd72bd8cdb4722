#pragma once

#include <vector>

#include "call/lids.h"
#include "call/report.h"
#include "call/seen.h"
#include "pit/burn.h"

namespace pitwright::call {

/// How every spot came back from each opening, one entry an opening:
///   short_i(t) = rest of the fall of those that came back best, as modelled
///                + how far spot i lags behind them, against where both stood before the lid
/// Back: from the first moment at which this stays below 3/10 of *matters* for five minutes. Slow:
/// still short by that much, on the average of the first 5 min (or swing) after the air came back.
/// Asked only where at least 5 min of the same setting count before the opening; otherwise the
/// entry has no spots. Nothing later than the end of the setting, the next opening or seen.end_s()
/// is looked at. Source: docs/methods/windows.md.
std::vector<LidCall> recoveries_of(const Burn& burn, const Seen& seen,
                                   const std::vector<Opening>& openings,
                                   const std::vector<StintCall>& stints, const Swing& swing);

/// The spots of an opening that came back slowly; indices into Panel::spots.
std::vector<int> slow_spots(const LidCall& lid);

}  // namespace pitwright::call
