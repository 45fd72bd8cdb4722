#pragma once

#include <array>
#include <optional>
#include <vector>

#include "food/composition.h"

namespace pitwright::food {

/// How much water heated lean meat holds on to, per kg of lean raw meat (0.745 kg of it water).
///   c_eq(T) = 0.745 - 0.345 / (1 + 30 exp(-0.25 (T - 52)))
/// Source: van der Sman (2007), Meat Science 76, 730, as used by Feyissa et al. (2013); read
/// second-hand. We read it per kg of raw meat: then what is lost by 70-90 degC (26-34 %) is what is
/// measured; per kg of meat at the moment it would be over 55 %.
double water_held(double t_c);
inline constexpr double raw_lean_water = 0.745;

/// A food as the heat equation wants it. Masses and volumes are those of the raw piece: it does not
/// shrink. Heat per kg of raw food, from 0 degC, of which `w` kg are water:
///   h(T, w) = (d0 T + d1 T^2/2 + d2 T^3/3) + w (s0 T + s1 T^2/2 + s2 T^3/3)
/// Conductivity k(T) = k0 + k1 T + k2 T^2, the curve through 0, 60 and 120 degC.
struct Material {
  double density = 0;                    ///< [kg/m3]
  std::array<double, 3> conductivity{};  ///< k0, k1, k2
  std::array<double, 3> dry_heat{};      ///< d0, d1, d2: all but water [J/(kg K)]
  std::array<double, 3> water_heat{};    ///< s0, s1, s2: of a kg of water
  double water = 0;                      ///< in the raw food [kg/kg]
  bool lets_water_go = false;            ///< follows water_held, scaled to its own water

  /// Below the freezing point: Chen's ice. Absent: never frozen.
  struct Frozen {
    double point_c = -1;
    double slope = 0;           ///< A of dh/dT = A - B tf / T^2 [J/(kg K)]
    double latent = 0;          ///< B [J/kg]
    std::vector<double> k_sum;  ///< integral of k from the point down, every 0.05 K [W/m]
    static constexpr double step_k = 0.05;
  };
  std::optional<Frozen> frozen;

  /// Integral of the conductivity from 0 degC [W/m]: differences of it drive the flow of heat.
  double k_integral(double t_c) const;
  double conductivity_at(double t_c) const;
  /// Heat of a kg of raw food holding w kg of water [J].
  double heat(double t_c, double w) const;
  double heat_capacity(double t_c, double w) const;
  /// Temperature from heat, by Newton's method from a guess.
  double temperature(double heat_j, double w, double guess_c) const;
  /// Heat of one kg of liquid water [J].
  double water_enthalpy(double t_c) const;
  /// Water the food holds on to at t_c [kg/kg raw]; its own share of water_held.
  double held_water(double t_c) const;
};

/// How the made material behaves.
struct MaterialOptions {
  Mixing mixing = Mixing::levy;
  double density_at_c = 5;
  Freezing freezing{};
};
Material make_material(const Composition& food, const MaterialOptions& options = {});

/// Fixed properties and no water: for cases with a known answer.
Material plain_material(double conductivity, double density, double heat_capacity);

}  // namespace pitwright::food
