#pragma once

#include "food/steam.h"

namespace pitwright::food {

/// Dry air at one pressure: [kg/m3], [Pa s], [W/(m K)], [J/(kg K)].
/// rho = p/(287.055 T), Sutherland's viscosity, k = 0.0241 (T/273.15)^0.81, cp = 1007; from memory.
struct AirProperties {
  double density, viscosity, conductivity, heat_capacity;
  double prandtl() const { return viscosity * heat_capacity / conductivity; }
};
AirProperties dry_air(double t_c, double pressure_pa = standard_pressure_pa);

/// Heat transfer by still air around a lying cylinder [W/(m2 K)]; Churchill & Chu (1975), from
/// memory: Nu^0.5 = 0.60 + 0.387 Ra^(1/6) / [1 + (0.559/Pr)^(9/16)]^(8/27).
double still_air_transfer(double diameter_m, double surface_c, double air_c,
                          double pressure_pa = standard_pressure_pa);
/// By air that crosses a cylinder [W/(m2 K)]; Churchill & Bernstein (1977), from memory.
double moving_air_transfer(double diameter_m, double speed_m_s, double surface_c, double air_c,
                           double pressure_pa = standard_pressure_pa);
/// Radiation as a transfer coefficient: eps sigma (T1^2 + T2^2)(T1 + T2) [W/(m2 K)].
double radiation_transfer(double emissivity, double surface_c, double surroundings_c);

inline constexpr double stefan_boltzmann = 5.670374e-8;

/// Mass transfer that goes with a convective h: kc = h / (rho cp Le^(2/3)) [m/s], with rho cp =
/// 1.0 x 1007 and Le = 0.85, those of air near 350 K at sea level; kc grows as the air thins.
/// Source: the Chilton-Colburn analogy; Le from Massman's (1998) diffusivity (from memory).
double mass_transfer(double h_w_m2k, double pressure_pa = standard_pressure_pa);

}  // namespace pitwright::food
