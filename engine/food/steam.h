#pragma once

namespace pitwright::food {

inline constexpr double standard_pressure_pa = 101325;
inline constexpr double vapor_gas_constant = 461.52;  ///< [J/(kg K)]

/// Pressure of saturated steam over water [Pa].
/// Source: IAPWS-IF97, region 4, eq. 30; valid 0.01 .. 373.9 degC. Below zero it is continued, as
/// over supercooled water (-20 degC: within 1 % of the usual tables, from memory).
double saturation_pressure(double t_c);
/// Temperature at which steam of a pressure is saturated [degC]; IF97 region 4, eq. 31.
double boiling_point(double pressure_pa);
/// Saturated vapor [kg/m3], as an ideal gas of 461.52 J/(kg K).
double saturated_vapor_density(double t_c);
/// Heat of evaporation [J/kg]: 2.501e6 - 2361 T (from memory; IF97 has 2256.5 kJ/kg at 100 degC).
double evaporation_heat(double t_c);

/// Air pressure at a height above the sea [Pa]; ISO 2533 to 11 km.
double pressure_at(double height_m);

/// Pressure of the vapor in air that holds `humidity` kg of water per kg of dry air [Pa].
double vapor_pressure(double humidity, double pressure_pa = standard_pressure_pa);
/// The same as a density at the air's temperature [kg/m3].
double vapor_density(double humidity, double air_c, double pressure_pa = standard_pressure_pa);
/// Water in air of a relative humidity (0 .. 1) [kg/kg of dry air].
double humidity_ratio(double relative_humidity, double air_c,
                      double pressure_pa = standard_pressure_pa);
/// Relative humidity, 0 .. 1, against saturation at the air's temperature.
double relative_humidity(double humidity, double air_c, double pressure_pa = standard_pressure_pa);
/// The most that steam at one pressure can show: p / psat above the boiling point, else 1.
double highest_relative_humidity(double air_c, double pressure_pa = standard_pressure_pa);
double dew_point(double humidity, double pressure_pa = standard_pressure_pa);  ///< [degC]

/// Thermodynamic wet-bulb temperature [degC], by bisection to 1e-9 K.
///   W = [(2501 - 2.326 t*) Ws* - 1.006 (t - t*)] / (2501 + 1.86 t - 4.186 t*)
/// Source: ASHRAE Handbook Fundamentals, Psychrometrics.
double wet_bulb(double air_c, double humidity, double pressure_pa = standard_pressure_pa);

}  // namespace pitwright::food
