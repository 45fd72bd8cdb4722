#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

namespace pitwright {

/// What must be added where a thermometer shows a certain reading.
struct CorrectionPoint {
  double at_c = 0.0;                    ///< the reading [degC]
  double add_k = 0.0;                   ///< [K]
  std::optional<double> uncertainty_k;  ///< +- at 95 % after it [K]; empty: not told
};

/// What to add to a thermometer's readings, as somebody found it out.
struct Correction {
  std::vector<CorrectionPoint> points;  ///< readings ascend; empty: nothing is added
  /// The part of the uncertainties that all thermometers with the same `from` share, +- at 95 %
  /// [K]: it moves all of them together and cancels in how a spot runs.
  double shared_k = 0.0;
  std::optional<std::chrono::year_month_day> checked;
  std::string from;  ///< where it is written, such as "rollcall.toml"; empty: in the burn itself
};

/// What to add at a reading [K]: the straight line through the two points around it; beyond the
/// outermost points the line goes on. One point holds everywhere, none adds nothing.
double correction_k(const Correction& correction, double reading_c);

/// +- at 95 % after the correction [K]; empty where the points do not tell it. With w the place
/// between the neighboring points (0 at the first, 1 at the second):
///   inside   (1 - w) u1 + w u2, as if both erred together: an upper bound
///   beyond   sqrt((1 - w)^2 u1^2 + w^2 u2^2), which grows with the distance
/// Source: propagation of uncertainty through a straight line, JCGM 100 (GUM) 5.1.
std::optional<double> uncertainty_k(const Correction& correction, double reading_c);

}  // namespace pitwright
