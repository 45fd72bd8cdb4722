#include "food/air.h"

#include <cmath>

namespace pitwright::food {

AirProperties dry_air(double t_c, double pressure_pa) {
  const double T = t_c + 273.15;
  const double r = T / 273.15;
  return {pressure_pa / (287.055 * T), 1.716e-5 * std::pow(r, 1.5) * 383.55 / (T + 110.4),
          0.0241 * std::pow(r, 0.81), 1007};
}

double still_air_transfer(double diameter_m, double surface_c, double air_c, double pressure_pa) {
  const double film_c = (surface_c + air_c) / 2;
  const auto air = dry_air(film_c, pressure_pa);
  const double nu = air.viscosity / air.density;
  const double alpha = air.conductivity / (air.density * air.heat_capacity);
  const double Ra = 9.80665 * std::abs(air_c - surface_c) * std::pow(diameter_m, 3) /
                    ((film_c + 273.15) * nu * alpha);
  const double root = 0.60 + 0.387 * std::pow(Ra, 1.0 / 6) /
                                 std::pow(1 + std::pow(0.559 / air.prandtl(), 9.0 / 16), 8.0 / 27);
  return root * root * air.conductivity / diameter_m;
}

double moving_air_transfer(double diameter_m, double speed_m_s, double surface_c, double air_c,
                           double pressure_pa) {
  const auto air = dry_air((surface_c + air_c) / 2, pressure_pa);
  const double Re = air.density * speed_m_s * diameter_m / air.viscosity;
  const double Pr = air.prandtl();
  const double Nu = 0.3 + 0.62 * std::sqrt(Re) * std::cbrt(Pr) /
                              std::pow(1 + std::pow(0.4 / Pr, 2.0 / 3), 0.25) *
                              std::pow(1 + std::pow(Re / 282000, 5.0 / 8), 0.8);
  return Nu * air.conductivity / diameter_m;
}

double radiation_transfer(double emissivity, double surface_c, double surroundings_c) {
  const double T1 = surface_c + 273.15, T2 = surroundings_c + 273.15;
  return emissivity * stefan_boltzmann * (T1 * T1 + T2 * T2) * (T1 + T2);
}

double mass_transfer(double h_w_m2k, double pressure_pa) {
  static const double lewis = std::pow(0.85, -2.0 / 3);
  return h_w_m2k / (1.0 * 1007) * lewis * (standard_pressure_pa / pressure_pa);
}

}  // namespace pitwright::food
