#pragma once

#include <vector>

namespace pitwright::thermometer {

/// One check of a thermometer: what must be added where it shows `reading_c`, with standard
/// uncertainties. `own_k` is this thermometer's alone, `shared_k` moves all that were checked
/// there.
struct CheckPoint {
  double reading_c, add_k;
  double own_k, shared_k;
  double spread_k;        ///< the part of own_k that was estimated from repeated readings
  double spread_freedom;  ///< and its degrees of freedom; 0 where there was no such part
};

/// A straight line through checks: add(t) = middle + slope (t - at), by weighted least squares.
struct LineFit {
  double at_c = 0.0, middle_k = 0.0, slope = 0.0;
  bool has_slope = false;
  std::vector<CheckPoint> points;
  double stretch = 1.0;  ///< factor on all uncertainties where the points miss the line by more
                         ///< than they should (Birge ratio, never below 1)

  double add_k(double reading_c) const { return middle_k + slope * (reading_c - at_c); }
};

/// Half width at 95 % of a line at a reading.
struct LineUncertainty {
  double all_k, own_k, shared_k;
};

/// The line through checks that lie `least_span_k` apart or more; otherwise their weighted mean,
/// whose uncertainty grows with the distance by an unknown gain of `gain_share` (a half width,
/// rectangular). Pre: at least one point; uncertainties above zero.
/// Source: JCGM 100 (GUM) 5.1, 4.3.7 and annex G.4 (Welch-Satterthwaite); Birge ratio: common
/// practice in metrology.
LineFit fit_line(std::vector<CheckPoint> points, double least_span_k);

LineUncertainty uncertainty_of(const LineFit& line, double reading_c, double gain_share);

}  // namespace pitwright::thermometer
