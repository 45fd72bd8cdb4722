#pragma once

namespace pitwright::thermometer {

/// Air pressure [Pa] at a height above the sea [m] in the standard atmosphere, from -2000 to 11000
/// m:
///   p = 101325 (1 - 0.0065 H / 288.15)^5.255880,   H = r z / (r + z),  r = 6356766 m
/// Weather moves it by some 1 to 2 %.
/// Source: ISO 2533 / ICAO Doc 7488; exponent g / (R L) with g 9.80665, R 287.05287, L 0.0065.
double standard_pressure_pa(double height_m);

/// Temperature [degC] at which water boils under a pressure [Pa], 611.213 Pa to 22 MPa.
/// Source: IAPWS-IF97, region 4, backward equation.
double boiling_point_c(double pressure_pa);

/// Pressure [Pa] of saturated steam at a temperature [degC], 0 to 373.
/// Source: IAPWS-IF97, region 4.
double saturation_pressure_pa(double celsius);

/// Temperature [degC] of ice and water side by side under a pressure [Pa]; within 5 mK of 0 in any
/// kitchen.
/// Source: -7.5 mK and -2.4 mK (dissolved air) an atmosphere, from memory.
double ice_point_c(double pressure_pa);

}  // namespace pitwright::thermometer
