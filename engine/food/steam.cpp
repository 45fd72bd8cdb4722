#include "food/steam.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace pitwright::food {

namespace {

// IAPWS-IF97, table 34.
constexpr std::array<double, 10> n{0.11670521452767e4,  -0.72421316703206e6, -0.17073846940092e2,
                                   0.12020824702470e5,  -0.32325550322333e7, 0.14915108613530e2,
                                   -0.48232657361591e4, 0.40511340542057e6,  -0.23855557567849,
                                   0.65017534844798e3};

constexpr double water_to_air = 0.621945;  ///< ratio of molar masses

}  // namespace

double saturation_pressure(double t_c) {
  const double T = t_c + 273.15;
  const double th = T + n[8] / (T - n[9]);
  const double A = th * th + n[0] * th + n[1];
  const double B = n[2] * th * th + n[3] * th + n[4];
  const double C = n[5] * th * th + n[6] * th + n[7];
  const double root = 2 * C / (-B + std::sqrt(B * B - 4 * A * C));
  return 1e6 * root * root * root * root;
}

double boiling_point(double pressure_pa) {
  const double b = std::pow(pressure_pa * 1e-6, 0.25);
  const double E = b * b + n[2] * b + n[5];
  const double F = n[0] * b * b + n[3] * b + n[6];
  const double G = n[1] * b * b + n[4] * b + n[7];
  const double D = 2 * G / (-F - std::sqrt(F * F - 4 * E * G));
  return (n[9] + D - std::sqrt((n[9] + D) * (n[9] + D) - 4 * (n[8] + n[9] * D))) / 2 - 273.15;
}

double saturated_vapor_density(double t_c) {
  return saturation_pressure(t_c) / (vapor_gas_constant * (t_c + 273.15));
}

double evaporation_heat(double t_c) {
  return 2.501e6 - 2361 * t_c;
}

double pressure_at(double height_m) {
  return standard_pressure_pa * std::pow(1 - 0.0065 * height_m / 288.15, 5.255880);
}

double vapor_pressure(double humidity, double pressure_pa) {
  return pressure_pa * humidity / (water_to_air + humidity);
}

double vapor_density(double humidity, double air_c, double pressure_pa) {
  return vapor_pressure(humidity, pressure_pa) / (vapor_gas_constant * (air_c + 273.15));
}

double humidity_ratio(double relative, double air_c, double pressure_pa) {
  const double pv = relative * saturation_pressure(air_c);
  return water_to_air * pv / (pressure_pa - pv);
}

double relative_humidity(double humidity, double air_c, double pressure_pa) {
  return vapor_pressure(humidity, pressure_pa) / saturation_pressure(air_c);
}

double highest_relative_humidity(double air_c, double pressure_pa) {
  return std::min(1.0, pressure_pa / saturation_pressure(air_c));
}

double dew_point(double humidity, double pressure_pa) {
  return boiling_point(vapor_pressure(humidity, pressure_pa));
}

double wet_bulb(double air_c, double humidity, double pressure_pa) {
  const auto held = [&](double star) {
    const double saturated = humidity_ratio(1, star, pressure_pa);
    return ((2501 - 2.326 * star) * saturated - 1.006 * (air_c - star)) /
           (2501 + 1.86 * air_c - 4.186 * star);
  };
  double low = -40, high = std::min(air_c, boiling_point(pressure_pa) - 1e-6);
  for (int i = 0; i < 60 && high - low > 1e-9; ++i) {
    const double middle = (low + high) / 2;
    (held(middle) < humidity ? low : high) = middle;
  }
  return (low + high) / 2;
}

}  // namespace pitwright::food
