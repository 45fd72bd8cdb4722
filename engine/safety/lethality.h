#pragma once

#include <optional>
#include <vector>

#include "safety/rules.h"
#include "safety/trace.h"

namespace pitwright::safety {

/// Slack for the rounding of degF kept as degC [K]; far below any display's step.
inline constexpr double rounding_k = 1e-6;

/// Time of the coldest spot at or above one row of a rule.
struct RowTime {
  Dwell row;
  double held_s = 0.0;  ///< credited time; of one stretch, the longest, where it must be one
  std::optional<double> met_s;  ///< when the row was met
};

struct Lethality {
  std::vector<RowTime> rows;           ///< as the rule's
  std::optional<std::size_t> met;      ///< the row that was met first
  std::optional<std::size_t> nearest;  ///< the row with the largest share of its time; rows of 0 s
                                       ///< count where they were met
  std::optional<double> met_s;
  /// Sum over the time, by the table's own time at each temperature; empty where the rule has no
  /// target.
  std::optional<double> log_reduction;
  /// When that sum reached the target.
  std::optional<double> target_reached_s;
};

/// Which readings a rule is held against.
enum class Reading {
  credited,  ///< less the probe's tolerance: what the verdict rests on
  as_read    ///< for the margin only
};

/// A rule of cooking against a trace. Between two readings the lower one counts for the whole
/// stretch; a stretch without readings counts nothing; a row of 0 s takes two readings in a row at
/// or above it.
///   log reduction = sum of target x stretch / dwell(temperature), nothing below the first row, at
///   most the rate of the last row that is not 0 s
/// Source: rows and their use: FSIS-GD-2021-0014 (times may be gathered at or above a row, p. 67);
/// the sum in this form is ours, after the general lethality integral.
Lethality lethality_of(const Trace& trace, const Rule& rule, Reading reading);

}  // namespace pitwright::safety
