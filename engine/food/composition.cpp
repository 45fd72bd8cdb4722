#include "food/composition.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "base/expects.h"

namespace pitwright::food {

namespace {

/// a + b T + c T^2
using Curve = std::array<double, 3>;
struct Curves {
  Curve k, density, heat_capacity_kj;
};

constexpr std::array<Curves, 7> curves{{
    {{0.17881, 1.1958e-3, -2.7178e-6}, {1329.9, -0.51840, 0}, {2.0082, 1.2089e-3, -1.3129e-6}},
    {{0.18071, -2.7604e-4, -1.7749e-7}, {925.59, -0.41757, 0}, {1.9842, 1.4733e-3, -4.8008e-6}},
    {{0.20141, 1.3874e-3, -4.3312e-6}, {1599.1, -0.31046, 0}, {1.5488, 1.9625e-3, -5.9399e-6}},
    {{0.18331, 1.2497e-3, -3.1683e-6}, {1311.5, -0.36589, 0}, {1.8459, 1.8306e-3, -4.6509e-6}},
    {{0.32962, 1.4011e-3, -2.9069e-6}, {2423.8, -0.28063, 0}, {1.0926, 1.8896e-3, -3.6817e-6}},
    {{0.57109, 1.7625e-3, -6.7036e-6},
     {997.18, 3.1439e-3, -3.7574e-3},
     {4.1762, -9.0864e-5, 5.4731e-6}},
    {{2.2196, -6.2489e-3, 1.0154e-4}, {916.89, -0.13071, 0}, {2.0623, 6.0769e-3, 0}},
}};

double at(const Curve& p, double t) {
  return p[0] + t * (p[1] + t * p[2]);
}

/// A component with its mass share.
using Part = std::pair<Component, double>;

std::vector<Part> parts_of(const Composition& food, double ice = 0) {
  return {{Component::protein, food.protein},
          {Component::fat, food.fat},
          {Component::carbohydrate, food.carbohydrate},
          {Component::fiber, food.fiber},
          {Component::ash, food.ash},
          {Component::water, food.water - ice},
          {Component::ice, ice}};
}

struct Sums {
  double mass = 0, volume = 0, heat = 0, k_volume = 0, volume_over_k = 0;

  double density() const { return mass / volume; }
  double parallel() const { return k_volume / volume; }
  double series() const { return volume / volume_over_k; }
};

Sums sums_of(const std::vector<Part>& parts, double t_c, bool with_fat = true) {
  Sums s;
  for (const auto& [which, share] : parts) {
    if (share <= 0 || (which == Component::fat && !with_fat)) continue;
    const auto p = component(which, t_c);
    const double volume = share / p.density;
    s.mass += share;
    s.volume += volume;
    s.heat += share * p.heat_capacity;
    s.k_volume += volume * p.conductivity;
    s.volume_over_k += volume / p.conductivity;
  }
  return s;
}

double mixed_conductivity(const Composition& food, double t_c, Mixing mixing, const Sums& all) {
  if (mixing == Mixing::parallel) return all.parallel();
  if (mixing == Mixing::series) return all.series();
  const auto rest = sums_of(parts_of(food), t_c, false);
  const auto fat = component(Component::fat, t_c);
  const double fat_volume = food.fat / fat.density / all.volume;
  if (food.fat <= 0) return rest.parallel();
  if (rest.mass <= 0) return fat.conductivity;
  switch (mixing) {
    case Mixing::maxwell_eucken:
      return maxwell_eucken(rest.parallel(), fat.conductivity, fat_volume);
    case Mixing::kopelman:
      return kopelman(rest.parallel(), fat.conductivity, fat_volume);
    default:
      return levy(rest.parallel(), fat.conductivity, rest.mass / all.mass, rest.density(),
                  fat.density);
  }
}

}  // namespace

Result<Composition> make_composition(const Composition& amounts) {
  const auto& a = amounts;
  double sum = 0;
  for (const double x : {a.water, a.protein, a.fat, a.carbohydrate, a.fiber, a.ash}) {
    if (!std::isfinite(x) || x < 0) {
      return fail(ErrorKind::bad_input, "a composition needs amounts that are not negative");
    }
    sum += x;
  }
  if (!(sum > 0) || !std::isfinite(sum)) {
    return fail(ErrorKind::bad_input, "a composition needs at least one amount above zero");
  }
  if (a.water + a.protein <= 0) {
    return fail(ErrorKind::bad_input, "a composition without water and protein is no meat");
  }
  return Composition{a.water / sum,        a.protein / sum, a.fat / sum,
                     a.carbohydrate / sum, a.fiber / sum,   a.ash / sum};
}

Properties component(Component which, double t_c) {
  const auto& one = curves[static_cast<std::size_t>(which)];
  return {at(one.k, t_c), at(one.density, t_c), 1000 * at(one.heat_capacity_kj, t_c)};
}

double maxwell_eucken(double k_continuous, double k_dispersed, double volume_share) {
  const double kc = k_continuous, kd = k_dispersed, phi = volume_share;
  return kc * (2 * kc + kd - 2 * phi * (kc - kd)) / (2 * kc + kd + phi * (kc - kd));
}

double kopelman(double k_continuous, double k_dispersed, double volume_share) {
  const double L = std::cbrt(volume_share);
  const double Q = L * L * (1 - k_dispersed / k_continuous);
  return k_continuous * (1 - Q) / (1 - Q * (1 - L));
}

double levy(double k1, double k2, double x1, double density1, double density2) {
  const double ratio = k1 / k2;
  if (std::abs(ratio - 1) < 1e-9) return k2;
  const double sigma = (ratio - 1) * (ratio - 1) / ((ratio + 1) * (ratio + 1) + ratio / 2);
  const double R1 = 1 / (1 + (1 / x1 - 1) * (density1 / density2));
  const double a = 2 / sigma - 1 + 2 * R1;
  const double F1 = 0.5 * (a - std::sqrt(a * a - 8 * R1 / sigma));
  return k2 * ((2 + ratio) + 2 * (ratio - 1) * F1) / ((2 + ratio) - (ratio - 1) * F1);
}

Properties mixture(const Composition& food, double t_c, Mixing mixing) {
  const auto all = sums_of(parts_of(food), t_c);
  expects(all.mass > 0);
  return {mixed_conductivity(food, t_c, mixing, all), all.density(), all.heat / all.mass};
}

double bound_water(const Composition& food) {
  return std::min(0.4 * food.protein, food.water);
}

double ice_fraction_chen(const Composition& food, Freezing freezing, double t_c) {
  if (t_c >= freezing.point_c) return 0;
  return (food.water - bound_water(food)) * (1 - freezing.point_c / t_c);
}

double ice_fraction_tchigeov(const Composition& food, Freezing freezing, double t_c) {
  if (t_c >= freezing.point_c) return 0;
  return 1.105 * food.water / (1 + 0.7138 / std::log(freezing.point_c - t_c + 1));
}

double apparent_heat_capacity(const Composition& food, Freezing freezing, double t_c) {
  expects(t_c < freezing.point_c);
  constexpr double latent_kj = 333.6;
  const double solids = 1 - food.water;
  return 1000 * (1.55 + 1.26 * solids -
                 (food.water - bound_water(food)) * latent_kj * freezing.point_c / (t_c * t_c));
}

Properties frozen_mixture(const Composition& food, Freezing freezing, double t_c) {
  const double ice = ice_fraction_chen(food, freezing, t_c);
  const auto all = sums_of(parts_of(food, ice), t_c);
  return {all.parallel(), all.density(), apparent_heat_capacity(food, freezing, t_c)};
}

}  // namespace pitwright::food
