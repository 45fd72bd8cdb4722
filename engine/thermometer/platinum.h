#pragma once

#include "base/result.h"

namespace pitwright::thermometer {

/// Resistance [ohm] of an industrial platinum thermometer of `at_zero_ohm` at 0 degC (Pt100: 100):
///   R = R0 (1 + A t + B t^2 + C (t - 100) t^3 below 0 degC)
/// Pre:    -200 <= t <= 850.
/// Source: IEC 60751:2008 / 2022 (Callendar-Van Dusen): A 3.9083e-3, B -5.775e-7, C -4.183e-12.
double platinum_ohm(double celsius, double at_zero_ohm = 100.0);

/// The temperature [degC] of such a resistance: closed form above 0 degC, Newton's rule below.
/// Accuracy: 1e-9 K. Fails: bad_input outside -200 .. 850 degC.
Result<double> platinum_celsius(double ohm, double at_zero_ohm = 100.0);

}  // namespace pitwright::thermometer
