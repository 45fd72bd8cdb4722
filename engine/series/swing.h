#pragma once

#include <optional>
#include <span>
#include <vector>

namespace pitwright::series {

/// Where a cycle may be looked for. The longest is also held to a third of the record, the
/// shortest to six samples.
struct CycleRange {
  double shortest_s = 120.0;
  double longest_s = 1500.0;
};

/// A steady cycle in a series.
struct Cycle {
  std::optional<double> period_s;  ///< mean length of a cycle; empty: no steady cycle
  double scatter_s = 0.0;          ///< sd of single cycles' lengths; 0 without a period
  double size = 0.0;  ///< mean peak to trough; of irregular ups and downs where there is no period
  int cycles = 0;     ///< how many whole cycles were seen
  double likeness = 0.0;  ///< how alike the series is to itself a cycle later, -1 .. 1
};

/// Period and size of a steady cycle, or none.
///   y = series less its running line over two candidate periods, lightly smoothed
///   likeness(P) = sum_k w^k [r_y(k P) - r_y((k - 1/2) P)] / 2 sum_k w^k,  w = 0.8, k <= 4
/// taken over a fine grid of P. Slow and red noise, made flat over two periods, is unlike itself
/// one period later, so a high likeness asks for a real cycle; the bar falls with the root of the
/// number of cycles and was set on AR(1) noise and random walks (docs/methods/windows.md). Length
/// and scatter then come from the cycles one by one (crossings with hysteresis).
/// Missing values (NaN) are left out.
/// Shapes: values n at equal steps. Cost: O(n) a candidate, on a series thinned to the candidate.
Cycle find_cycle(std::span<const double> values, double step_s, const CycleRange& range = {});

/// The cycle of a series whose neighbors swing with `period_s`: same length within a fifth, own
/// scatter and size. Without a period only the size is told.
Cycle cycle_near(std::span<const double> values, double step_s, std::optional<double> period_s);

}  // namespace pitwright::series
