#pragma once

#include <array>
#include <string_view>

#include "base/result.h"

namespace pitwright::food {

/// Mass fractions of a food; they add up to 1 once `normalized`.
struct Composition {
  double water = 0, protein = 0, fat = 0, carbohydrate = 0, fiber = 0, ash = 0;
};

/// The one door from a person's numbers: fractions in any one scale (of 1, per 100 g), brought to a
/// sum of 1. Fails: bad_input where one is negative or not finite, where they are all zero, or
/// where there is neither water nor protein.
Result<Composition> make_composition(const Composition& amounts);

enum class Component { protein, fat, carbohydrate, fiber, ash, water, ice };

/// Conductivity [W/(m K)], density [kg/m3] and heat capacity [J/(kg K)] of one component.
struct Properties {
  double conductivity, density, heat_capacity;
};

/// Properties of a pure component at t_c, -40 .. 150 degC (water from 0).
///   p(T) = a + b T + c T^2
/// Source: Choi & Okos (1986), Effects of temperature and composition on the thermal properties of
/// foods, in Food Engineering and Process Applications 1, 93-101; the same set in the ASHRAE
/// Handbook Refrigeration, Thermal Properties of Foods, tables 1-2. Read in agreeing
/// transcriptions, not in the print. The slope of fat's conductivity is -2.7604e-4 (copies with e-3
/// are wrong).
Properties component(Component which, double t_c);

/// How conductivities are put together; see docs/methods/food.md for the formulae.
enum class Mixing { parallel, series, maxwell_eucken, kopelman, levy };

/// What a mixture is like at t_c above its initial freezing point.
/// Parallel and series: over all components. The other three: fat dispersed in the rest, whose own
/// conductivity is parallel.
Properties mixture(const Composition& food, double t_c, Mixing mixing = Mixing::levy);

/// Two phases: k of the continuous one, k and volume share of the dispersed one.
double maxwell_eucken(double k_continuous, double k_dispersed, double volume_share);
double kopelman(double k_continuous, double k_dispersed, double volume_share);
/// Levy's two-phase rule from mass share x1 of phase 1 and the densities of both.
double levy(double k1, double k2, double x1, double density1, double density2);

/// Frozen food: initial freezing point [degC], below 0.
/// Bound water is 0.4 kg per kg of protein (Chen; from memory).
struct Freezing {
  double point_c = -1.0;  ///< lean beef -1.0 .. -1.7 (from memory)
};

/// Ice per kg of food at t_c. Chen: (xw - xb)(1 - tf/t).
double ice_fraction_chen(const Composition& food, Freezing freezing, double t_c);
/// Tchigeov: 1.105 xw / (1 + 0.7138 / ln(tf - t + 1)); -45 <= t <= tf.
double ice_fraction_tchigeov(const Composition& food, Freezing freezing, double t_c);
/// Heat capacity with the latent heat in it, below the freezing point [J/(kg K)].
///   1.55 + 1.26 xs - (xw - xb) L0 tf / t^2  [kJ],   L0 = 333.6 kJ/kg
/// Source: Chen's form as in the ASHRAE Handbook (read second-hand).
double apparent_heat_capacity(const Composition& food, Freezing freezing, double t_c);
/// Conductivity and density with Chen's ice in it; parallel; heat capacity is the apparent one.
Properties frozen_mixture(const Composition& food, Freezing freezing, double t_c);

/// Share of the water that never freezes [kg/kg of food].
double bound_water(const Composition& food);

}  // namespace pitwright::food
