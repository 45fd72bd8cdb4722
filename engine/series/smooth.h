#pragma once

#include <span>
#include <vector>

namespace pitwright::series {

/// Value, at each sample, of the straight line fitted by least squares to the finite values within
/// `half` samples on either side (fewer at the ends). In the middle of a full series this is the
/// running mean; at the ends it follows a slope instead of flattening it. NaN where no value is
/// within reach; a mean where only one distinct moment is.
/// Shapes: values n, result n. Pre: half >= 0. Cost: O(n).
std::vector<double> running_line(std::span<const double> values, int half);

/// Mean of the finite values within `half` samples on either side; NaN where there is none. O(n).
std::vector<double> running_mean(std::span<const double> values, int half);

/// Means of `every` successive samples, NaN where fewer than half of them are finite; a shorter
/// rest at the end is left out. Shapes: values n, result n / every. Pre: every >= 1.
std::vector<double> thinned(std::span<const double> values, int every);

/// What the given series have in common and how each differs from it, y_i(t) = common(t) +
/// offset_i + rest, with offsets summing to zero: a series that drops out takes its offset with it
/// and leaves no step behind. Fitted by alternating means; both NaN where nothing is known.
struct Common {
  std::vector<double> common;
  std::vector<double> offsets;
  std::vector<int> count;  ///< series good at each moment

  /// The common part that is left without one of the series. Shapes: own n, result n.
  std::vector<double> without(std::span<const double> own, double own_offset) const;
};

/// Shapes: every series of length n; common and count n, offsets one a series.
Common common_of(std::span<const std::span<const double>> series, int n);

}  // namespace pitwright::series
