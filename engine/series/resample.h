#pragma once

#include <span>
#include <vector>

namespace pitwright::series {

/// Common moments: bin j is [start_s + j step_s, start_s + (j + 1) step_s).
struct Moments {
  double start_s;
  double step_s;
  int n;

  double center_s(int j) const { return start_s + (j + 0.5) * step_s; }
};

/// Median time between successive finite readings [s], of evenly chosen pairs in a long series; 0
/// below two.
/// Shapes: seconds and values have equal length; seconds ascend.
double usual_interval_s(std::span<const double> seconds, std::span<const double> values);

/// Mean of the readings in each bin; NaN where there is none. A bin without a reading is filled on
/// the straight line between its neighbors where these are at most 1.5 of the channel's own usual
/// interval apart: a slow logger leaves no holes, a real gap stays a gap. Before the first reading
/// and after the last, the nearest one is held for half an interval.
/// Shapes: seconds and values have equal length, result moments.n; seconds ascend.
std::vector<double> on_moments(std::span<const double> seconds, std::span<const double> values,
                               const Moments& moments);

}  // namespace pitwright::series
