#pragma once

#include <array>

#include "base/result.h"

namespace pitwright::thermometer {

/// A thermistor whose resistance falls as it warms: 1/T = a + b ln R + c (ln R)^3, T in kelvins, R
/// in ohms. Source: Steinhart & Hart, Deep-Sea Research 15 (1968) 497.
struct Thermistor {
  double a = 0.0, b = 0.0, c = 0.0;
};

struct ThermistorPoint {
  double celsius = 0.0;
  double ohm = 0.0;
};

/// The curve through three measured points, by the divided differences of 1/T over ln R.
/// Fails: bad_input where a resistance is not above zero, where warmer is not lower in resistance,
/// or where the curve would turn round between or near its points.
Result<Thermistor> fit_thermistor(const std::array<ThermistorPoint, 3>& points);

/// The two-number form R = R25 exp(beta (1/T - 1/298.15)) as such a curve (c = 0). It is off by
/// kelvins far from 25 degC. Fails: bad_input where either is not above zero.
Result<Thermistor> beta_thermistor(double ohm_at_25, double beta_k);

/// Fails: bad_input where the resistance is not above zero, or the curve gives a temperature
/// outside -60 .. 400 degC, where no such probe works.
Result<double> thermistor_celsius(const Thermistor& curve, double ohm);

/// The resistance at a temperature [ohm]: the cubic in ln R has one real root (c >= 0).
/// Pre: -60 <= celsius <= 400. Accuracy: 1e-12 of itself.
double thermistor_ohm(const Thermistor& curve, double celsius);

}  // namespace pitwright::thermometer
