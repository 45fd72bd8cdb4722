#include "thermometer/water.h"

#include <cmath>

#include "base/expects.h"

namespace pitwright::thermometer {
namespace {

// IAPWS-IF97, region 4.
constexpr double n1 = 0.11670521452767e4, n2 = -0.72421316703206e6, n3 = -0.17073846940092e2,
                 n4 = 0.12020824702470e5, n5 = -0.32325550322333e7, n6 = 0.14915108613530e2,
                 n7 = -0.48232657361591e4, n8 = 0.40511340542057e6, n9 = -0.23855557567849,
                 n10 = 0.65017534844798e3;
constexpr double zero_k = 273.15;
constexpr double atmosphere_pa = 101325.0;

}  // namespace

double standard_pressure_pa(double height_m) {
  expects(height_m >= -2000.0 && height_m <= 11000.0);
  constexpr double r_m = 6356766.0;
  const double H = r_m * height_m / (r_m + height_m);
  return atmosphere_pa * std::pow(1.0 - 0.0065 * H / 288.15, 9.80665 / (287.05287 * 0.0065));
}

double boiling_point_c(double pressure_pa) {
  expects(pressure_pa >= 611.0 && pressure_pa <= 22e6);
  const double beta = std::pow(pressure_pa * 1e-6, 0.25);
  const double E = beta * beta + n3 * beta + n6;
  const double F = n1 * beta * beta + n4 * beta + n7;
  const double G = n2 * beta * beta + n5 * beta + n8;
  const double D = 2.0 * G / (-F - std::sqrt(F * F - 4.0 * E * G));
  const double s = n10 + D;
  return 0.5 * (s - std::sqrt(s * s - 4.0 * (n9 + n10 * D))) - zero_k;
}

double saturation_pressure_pa(double celsius) {
  expects(celsius >= 0.0 && celsius <= 373.0);
  const double T = celsius + zero_k;
  const double theta = T + n9 / (T - n10);
  const double A = theta * theta + n1 * theta + n2;
  const double B = n3 * theta * theta + n4 * theta + n5;
  const double C = n6 * theta * theta + n7 * theta + n8;
  return std::pow(2.0 * C / (-B + std::sqrt(B * B - 4.0 * A * C)), 4.0) * 1e6;
}

double ice_point_c(double pressure_pa) {
  // 0 degC is where air-saturated water freezes under one atmosphere.
  return 9.9e-3 * (1.0 - pressure_pa / atmosphere_pa);
}

}  // namespace pitwright::thermometer
