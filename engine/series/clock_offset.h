#pragma once

#include <limits>
#include <optional>
#include <span>
#include <string>

namespace pitwright::series {

/// One channel on its own logger's clock.
/// Shapes: equal lengths; seconds ascend strictly; values in any unit, NaN where missing.
struct ClockedChannel {
  std::span<const double> seconds;
  std::span<const double> values;
};

/// Which offsets are looked at [s].
struct OffsetSearch {
  double least_s = -std::numeric_limits<double>::infinity();
  double most_s = std::numeric_limits<double>::infinity();
};

/// How a logger's clock stands to another's: time on a's clock = t + offset_s +
/// drift_s_per_h (t - at_s) / 3600 for a stamp t of b.
struct ClockOffset {
  double offset_s = 0.0;
  double drift_s_per_h = 0.0;  ///< 0 where none could be told from none
  double at_s = 0.0;           ///< the stamp of b at which offset_s holds
  double uncertainty_s = 0.0;  ///< +- at 95 %, over the time the two have in common
  double correlation = 0.0;    ///< of the changes, at the offset
};

/// The offset, or why it cannot be told.
struct OffsetFinding {
  std::optional<ClockOffset> found;
  std::string why;  ///< for people; empty where found
};

/// How much the answer of two thermometers to one change may differ in time [s, one sd]: it cannot
/// be told from an offset of the clocks and is part of every uncertainty. Common practice, no
/// source: sheathed probes answer within some tens of seconds of each other.
inline constexpr double probe_lag_sd_s = 10.0;

/// Finds the offset of b's clock from a's by the swings, gusts and lid openings both have seen.
///
/// Both channels go onto one grid of moments, are turned into changes over two intervals of the
/// slower log (units and levels fall out), and are correlated at every offset that leaves at least
/// 20 min and 40 % of the shorter log in common. The best offset is refined together with a drift
/// and a gain by Gauss-Newton on the changes. It is refused where another offset explains the
/// changes nearly as well (log-likelihood within 7, counting only independent moments), as with a
/// steady cycle that repeats itself; where two channels that have nothing to do with each other
/// would do as well; where nothing moves; or where the best lies at the edge of the search.
OffsetFinding find_clock_offset(const ClockedChannel& a, const ClockedChannel& b,
                                const OffsetSearch& search = {});

}  // namespace pitwright::series
