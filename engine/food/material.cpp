#include "food/material.h"

#include <algorithm>
#include <cmath>

namespace pitwright::food {

namespace {

/// The parabola a + b t + c t^2 through three points.
std::array<double, 3> through(const std::array<double, 3>& t, const std::array<double, 3>& y) {
  const double first = (y[1] - y[0]) / (t[1] - t[0]);
  const double second = ((y[2] - y[1]) / (t[2] - t[1]) - first) / (t[2] - t[0]);
  return {y[0] - first * t[0] + second * t[0] * t[1], first - second * (t[0] + t[1]), second};
}

double integral(const std::array<double, 3>& p, double t) {
  return t * (p[0] + t * (p[1] / 2 + t * p[2] / 3));
}

double value(const std::array<double, 3>& p, double t) {
  return p[0] + t * (p[1] + t * p[2]);
}

/// Heat capacity of all but water, per kg of the whole food, at t_c.
double dry_capacity(const Composition& food, double t_c) {
  Composition rest = food;
  rest.water = 0;
  const double share = 1 - food.water;
  return share > 0 ? share * mixture(rest, t_c, Mixing::parallel).heat_capacity : 0;
}

Material::Frozen make_frozen(const Composition& food, Freezing freezing, double k_at_point) {
  constexpr double latent_kj = 333.6, coldest_c = -60;
  Material::Frozen f;
  f.point_c = freezing.point_c;
  f.slope = 1000 * (1.55 + 1.26 * (1 - food.water));
  f.latent = 1000 * (food.water - bound_water(food)) * latent_kj;
  f.k_sum.push_back(0);
  double k_above = k_at_point;
  const double step = Material::Frozen::step_k;
  for (int i = 1; f.point_c - i * step >= coldest_c; ++i) {
    const double k = frozen_mixture(food, freezing, f.point_c - i * step).conductivity;
    f.k_sum.push_back(f.k_sum.back() - step * (k + k_above) / 2);
    k_above = k;
  }
  return f;
}

}  // namespace

double water_held(double t_c) {
  return 0.745 - 0.345 / (1 + 30 * std::exp(-0.25 * (t_c - 52)));
}

double Material::k_integral(double t_c) const {
  if (!frozen || t_c >= frozen->point_c) return integral(conductivity, t_c);
  const double at = (frozen->point_c - t_c) / Frozen::step_k;
  const auto last = frozen->k_sum.size() - 2;
  const auto i = std::min(static_cast<std::size_t>(at), last);
  const double share = at - static_cast<double>(i);
  return integral(conductivity, frozen->point_c) + frozen->k_sum[i] +
         share * (frozen->k_sum[i + 1] - frozen->k_sum[i]);
}

double Material::conductivity_at(double t_c) const {
  if (!frozen || t_c >= frozen->point_c) return value(conductivity, t_c);
  const double at = (frozen->point_c - t_c) / Frozen::step_k;
  const auto i = std::min(static_cast<std::size_t>(at), frozen->k_sum.size() - 2);
  return (frozen->k_sum[i] - frozen->k_sum[i + 1]) / Frozen::step_k;
}

double Material::heat(double t_c, double w) const {
  if (!frozen || t_c >= frozen->point_c)
    return integral(dry_heat, t_c) + w * integral(water_heat, t_c);
  const double tf = frozen->point_c;
  return heat(tf, w) - frozen->slope * (tf - t_c) - frozen->latent * (1 - tf / t_c);
}

double Material::heat_capacity(double t_c, double w) const {
  if (!frozen || t_c >= frozen->point_c) return value(dry_heat, t_c) + w * value(water_heat, t_c);
  return frozen->slope - frozen->latent * frozen->point_c / (t_c * t_c);
}

double Material::temperature(double heat_j, double w, double guess_c) const {
  if (frozen) {
    const double tf = frozen->point_c, top = heat(tf, w);
    if (heat_j < top) {
      // A T^2 + (top - A tf - B - h) T + B tf = 0; the colder root is the frozen one.
      const double a = frozen->slope, b = top - a * tf - frozen->latent - heat_j,
                   c = frozen->latent * tf;
      return (-b - std::sqrt(b * b - 4 * a * c)) / (2 * a);
    }
    guess_c = std::max(guess_c, tf);
  }
  double t = guess_c;
  for (int i = 0; i < 20; ++i) {
    const double step = (heat_j - integral(dry_heat, t) - w * integral(water_heat, t)) /
                        (value(dry_heat, t) + w * value(water_heat, t));
    t += step;
    if (std::abs(step) < 1e-12 * (1 + std::abs(t))) break;
  }
  return t;
}

double Material::water_enthalpy(double t_c) const {
  return integral(water_heat, t_c);
}

double Material::held_water(double t_c) const {
  if (!lets_water_go) return water;
  return std::min(water, water * water_held(t_c) / raw_lean_water);
}

Material make_material(const Composition& food, const MaterialOptions& options) {
  const std::array<double, 3> t{0, 60, 120};
  std::array<double, 3> k{}, dry{}, wet{};
  for (std::size_t i = 0; i < 3; ++i) {
    k[i] = mixture(food, t[i], options.mixing).conductivity;
    dry[i] = dry_capacity(food, t[i]);
    wet[i] = component(Component::water, t[i]).heat_capacity;
  }
  Material m;
  m.density = mixture(food, options.density_at_c).density;
  m.conductivity = through(t, k);
  m.dry_heat = through(t, dry);
  m.water_heat = through(t, wet);
  m.water = food.water;
  m.lets_water_go = food.water > 0;
  if (food.water > bound_water(food)) {
    m.frozen = make_frozen(food, options.freezing, m.conductivity_at(options.freezing.point_c));
  }
  return m;
}

Material plain_material(double conductivity, double density, double heat_capacity) {
  Material m;
  m.density = density;
  m.conductivity = {conductivity, 0, 0};
  m.dry_heat = {heat_capacity, 0, 0};
  return m;
}

}  // namespace pitwright::food
