#include "thermometer/platinum.h"

#include <cmath>

#include "base/expects.h"

namespace pitwright::thermometer {
namespace {

constexpr double A = 3.9083e-3, B = -5.775e-7, C = -4.183e-12;  // IEC 60751
constexpr double lowest_c = -200.0, highest_c = 850.0;

double ratio(double t) {
  const double below = t < 0.0 ? C * (t - 100.0) * t * t * t : 0.0;
  return 1.0 + A * t + B * t * t + below;
}

double ratio_slope(double t) {
  const double below = t < 0.0 ? C * (4.0 * t - 300.0) * t * t : 0.0;
  return A + 2.0 * B * t + below;
}

}  // namespace

double platinum_ohm(double celsius, double at_zero_ohm) {
  expects(celsius >= lowest_c && celsius <= highest_c && at_zero_ohm > 0.0);
  return at_zero_ohm * ratio(celsius);
}

Result<double> platinum_celsius(double ohm, double at_zero_ohm) {
  const double w = ohm / at_zero_ohm;
  constexpr double table_digit = 1e-4;  // a table's own last value is within the table
  if (!(at_zero_ohm > 0.0 && w >= ratio(lowest_c) - table_digit &&
        w <= ratio(highest_c) + table_digit)) {
    return fail(ErrorKind::bad_input,
                "{:.6g} ohm is no reading of a Pt{:.0f}, which has {:.4g} to {:.4g} ohm", ohm,
                at_zero_ohm, at_zero_ohm * ratio(lowest_c), at_zero_ohm * ratio(highest_c));
  }
  // Above 0 degC: the smaller root of B t^2 + A t + 1 - w = 0, in the form without cancellation.
  double t = 2.0 * (w - 1.0) / (A + std::sqrt(A * A - 4.0 * B * (1.0 - w)));
  if (w >= 1.0) return t;
  constexpr int enough = 30;
  for (int i = 0; i < enough; ++i) {
    const double step = (ratio(t) - w) / ratio_slope(t);
    t -= step;
    if (std::abs(step) < 1e-11) break;
  }
  return t;
}

}  // namespace pitwright::thermometer
