#include "thermometer/thermistor.h"

#include <algorithm>
#include <cmath>

#include "base/expects.h"

namespace pitwright::thermometer {
namespace {

constexpr double zero_k = 273.15;
constexpr double lowest_c = -60.0, highest_c = 400.0;

}  // namespace

Result<Thermistor> fit_thermistor(const std::array<ThermistorPoint, 3>& points) {
  auto p = points;
  std::ranges::sort(p, {}, &ThermistorPoint::celsius);
  for (std::size_t i = 0; i < p.size(); ++i) {
    const bool falls = i == 0 || (p[i].celsius > p[i - 1].celsius && p[i].ohm < p[i - 1].ohm);
    if (!(p[i].ohm > 0.0) || !falls) {
      return fail(ErrorKind::bad_input,
                  "a thermistor needs three different temperatures, each warmer one with a lower "
                  "resistance above zero; {:.6g} ohm at {:.4g} C does not fit",
                  p[i].ohm, p[i].celsius);
    }
  }
  const std::array L{std::log(p[0].ohm), std::log(p[1].ohm), std::log(p[2].ohm)};
  const std::array Y{1.0 / (p[0].celsius + zero_k), 1.0 / (p[1].celsius + zero_k),
                     1.0 / (p[2].celsius + zero_k)};
  const double g2 = (Y[1] - Y[0]) / (L[1] - L[0]);
  const double g3 = (Y[2] - Y[0]) / (L[2] - L[0]);
  Thermistor out;
  out.c = (g3 - g2) / (L[2] - L[1]) / (L[0] + L[1] + L[2]);
  out.b = g2 - out.c * (L[0] * L[0] + L[0] * L[1] + L[1] * L[1]);
  out.a = Y[0] - (out.b + out.c * L[0] * L[0]) * L[0];
  if (!(out.b > 0.0 && out.c >= 0.0)) {
    return fail(ErrorKind::bad_input,
                "no thermistor has these three points: its curve would turn round; check the "
                "temperatures and resistances");
  }
  return out;
}

Result<Thermistor> beta_thermistor(double ohm_at_25, double beta_k) {
  if (!(ohm_at_25 > 0.0 && beta_k > 0.0)) {
    return fail(ErrorKind::bad_input,
                "a thermistor's resistance at 25 C and its beta must be above zero");
  }
  return Thermistor{1.0 / (25.0 + zero_k) - std::log(ohm_at_25) / beta_k, 1.0 / beta_k, 0.0};
}

Result<double> thermistor_celsius(const Thermistor& curve, double ohm) {
  const double L = ohm > 0.0 ? std::log(ohm) : NAN;
  const double inverse = curve.a + (curve.b + curve.c * L * L) * L;
  const double celsius = 1.0 / inverse - zero_k;
  if (!(inverse > 0.0 && celsius >= lowest_c && celsius <= highest_c)) {
    return fail(ErrorKind::bad_input, "{:.6g} ohm is no reading of this thermistor", ohm);
  }
  return celsius;
}

double thermistor_ohm(const Thermistor& curve, double celsius) {
  expects(celsius >= lowest_c && celsius <= highest_c && curve.b > 0.0 && curve.c >= 0.0);
  const double y = 1.0 / (celsius + zero_k) - curve.a;
  double L =
      y / curve.b;  // exact where c = 0; else to the right of the root, where Newton descends
  constexpr int enough = 60;
  for (int i = 0; i < enough; ++i) {
    const double step = (curve.b * L + curve.c * L * L * L - y) / (curve.b + 3.0 * curve.c * L * L);
    L -= step;
    if (std::abs(step) < 1e-14 * std::max(1.0, std::abs(L))) break;
  }
  return std::exp(L);
}

}  // namespace pitwright::thermometer
