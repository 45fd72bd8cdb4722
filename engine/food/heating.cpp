#include "food/heating.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/expects.h"
#include "food/air.h"

namespace pitwright::food {

namespace {

std::size_t z(int i) {
  return static_cast<std::size_t>(i);
}

/// The crust's water, dried out from what meat holds at 80 degC.
constexpr double crust_at_c = 80;
/// A food with next to no water has no front that could run through it at any speed.
constexpr double least_water_kg_m3 = 20;

/// Steam has a critical point; a surface hotter than this has long been charcoal.
double vapor_at_surface(double t_c) {
  return saturated_vapor_density(std::min(t_c, 350.0));
}

}  // namespace

Heating::Heating(const Mesh& mesh, const Material& material, const Surface& surface)
    : mesh_(&mesh),
      material_(&material),
      surface_(surface),
      dried_water_(material.water > 0 ? std::max(material.density * material.held_water(crust_at_c),
                                                 least_water_kg_m3)
                                      : 0),
      t_c_(mesh.volume_m3.size()),
      k_sum_(mesh.volume_m3.size()),
      supply_(mesh.faces.size()),
      crossing_(mesh.faces.size()) {
  mass_ = material.density * std::accumulate(mesh.volume_m3.begin(), mesh.volume_m3.end(), 0.0);
}

std::vector<double> Heating::start(double t_c) const {
  std::vector<double> y(z(size()));
  for (int i = 0; i < cells(); ++i) {
    y[z(i)] = material_->density * mesh_->volume_m3[z(i)] * material_->heat(t_c, material_->water);
    y[z(cells() + i)] = material_->water;
  }
  return y;
}

void Heating::temperatures(std::span<const double> y, std::span<double> t_c) {
  for (int i = 0; i < cells(); ++i) {
    const double mass = material_->density * mesh_->volume_m3[z(i)];
    t_c_[z(i)] = material_->temperature(y[z(i)] / mass, y[z(cells() + i)], t_c_[z(i)]);
  }
  std::ranges::copy(t_c_, t_c.begin());
}

double Heating::probe_c(std::span<const double> t_c) const {
  double sum = 0;
  for (const auto& part : mesh_->probe) sum += part.weight * t_c[z(part.cell)];
  return sum;
}

double Heating::heat_held(std::span<const double> y) const {
  return std::accumulate(y.begin(), y.begin() + cells(), 0.0);
}

double Heating::water_held(std::span<const double> y) const {
  double sum = 0;
  for (int i = 0; i < cells(); ++i) {
    sum += material_->density * mesh_->volume_m3[z(i)] * y[z(cells() + i)];
  }
  for (int f = 0; f < faces(); ++f) sum -= mesh_->faces[z(f)].area_m2 * y[z(2 * cells() + f)];
  return sum;
}

double Heating::resistance(const Outside& out, double deficit) const {
  double r = 1 / (surface_.wetness * out.free_transfer) + out.wrap_resistance;
  if (surface_.dries && dried_water_ > 0) {
    r += std::max(deficit, 0.0) / (dried_water_ * surface_.crust_diffusivity_m2_s);
  }
  return r;
}

/// The surface's temperature, where the heat that comes equals what goes inward and what
/// evaporates:
///   h (Ta - Ts) + eps sigma (Tr^4 - Ts^4) - m hfg = [K(Ts) - K(Tc)] / depth,   K' = k
Crossing Heating::cross(const Mesh::Face& face, const Outside& out, double deficit,
                        double guess_c) const {
  const double r = resistance(out, deficit);
  const double inner = k_sum_[z(face.cell)];
  const auto at = [&](double ts) {
    const double k = ts + 273.15;
    const double heat = out.h * (out.air_c - ts) +
                        out.emissivity * stefan_boltzmann * (out.radiant_k4 - k * k * k * k);
    const double m = (surface_.water_activity * vapor_at_surface(ts) - out.vapor_kg_m3) / r;
    return Crossing{ts, heat, m, m * evaporation_heat(ts)};
  };
  Crossing here = at(guess_c);
  for (int i = 0; i < 60; ++i) {
    const double ts = here.surface_c, k = ts + 273.15;
    const double excess =
        here.heat_w_m2 - here.vapor_heat_w_m2 - (material_->k_integral(ts) - inner) / face.depth_m;
    const double hfg = evaporation_heat(ts);
    // Clausius-Clapeyron: near enough for the slope.
    const double vapor_slope = surface_.water_activity * vapor_at_surface(ts) *
                               (hfg / (vapor_gas_constant * k * k) - 1 / k) / r;
    const double slope = out.h + 4 * out.emissivity * stefan_boltzmann * k * k * k +
                         hfg * vapor_slope - 2361 * here.vapor_kg_m2s +
                         material_->conductivity_at(ts) / face.depth_m;
    const double step = std::clamp(excess / slope, -20.0, 20.0);
    here = at(ts + step);
    if (std::abs(step) < 1e-11 * (1 + std::abs(ts))) break;
  }
  return here;
}

void Heating::conduct(std::span<double> heat) const {
  for (const auto& link : mesh_->links) {
    const double flow = link.area_m * (k_sum_[z(link.b)] - k_sum_[z(link.a)]);
    heat[z(link.a)] += flow;
    heat[z(link.b)] -= flow;
  }
}

/// Water no longer held leaves its cell with its heat, comes to the outer cell of its row, and
/// leaves that at its temperature.
void Heating::release(std::span<const double> water, std::span<double> dheat,
                      std::span<double> dwater) {
  std::ranges::fill(supply_, 0.0);
  if (!material_->lets_water_go) return;
  for (int i = 0; i < cells(); ++i) {
    const double excess = water[z(i)] - material_->held_water(t_c_[z(i)]);
    if (excess <= 0) continue;
    dwater[z(i)] = -excess / surface_.release_lag_s;
    const double flow = material_->density * mesh_->volume_m3[z(i)] * -dwater[z(i)];
    const int f = mesh_->nearest_face[z(i)];
    const auto& face = mesh_->faces[z(f)];
    const double heat = flow * material_->water_enthalpy(t_c_[z(i)]);
    dheat[z(i)] -= heat;
    dheat[z(face.cell)] += heat;
    supply_[z(f)] += flow / face.area_m2;
  }
}

void Heating::surfaces(std::span<const Outside> around, std::span<const double> deficit,
                       std::span<double> dy) {
  const auto ddeficit = dy.subspan(z(2 * cells()), z(faces()));
  const auto ledger = dy.subspan(z(2 * cells() + faces()));
  front_rate_ = 1 / surface_.drip_lag_s;
  for (int f = 0; f < faces(); ++f) {
    const auto& face = mesh_->faces[z(f)];
    const auto& out = around[z(face.side)];
    auto& x = crossing_[z(f)];
    x = cross(face, out, deficit[z(f)], x.surface_c);
    const double A = face.area_m2;
    const double carried = supply_[z(f)] * material_->water_enthalpy(t_c_[z(face.cell)]);
    const double drip = std::max(-(deficit[z(f)] + surface_.film_kg_m2), 0.0) / surface_.drip_lag_s;
    dy[z(face.cell)] += A * (x.heat_w_m2 - x.vapor_heat_w_m2 - carried);
    ddeficit[z(f)] = x.vapor_kg_m2s - supply_[z(f)] + drip;
    ledger[heat_in] += A * x.heat_w_m2;
    ledger[vapor_heat] += A * x.vapor_heat_w_m2;
    ledger[water_heat] += A * carried;
    ledger[evaporated] += A * x.vapor_kg_m2s;
    ledger[dripped] += A * drip;
    if (surface_.dries && dried_water_ > 0) {
      front_rate_ = std::max(
          front_rate_, std::abs(x.vapor_kg_m2s) / (resistance(out, deficit[z(f)]) * dried_water_ *
                                                   surface_.crust_diffusivity_m2_s));
    }
  }
}

void Heating::rate(std::span<const Outside> around, std::span<const double> y,
                   std::span<double> dy) {
  expects(around.size() == sides && std::ssize(y) == size() && std::ssize(dy) == size());
  std::ranges::fill(dy, 0.0);
  temperatures(y, t_c_);
  for (int i = 0; i < cells(); ++i) k_sum_[z(i)] = material_->k_integral(t_c_[z(i)]);
  conduct(dy.first(z(cells())));
  release(y.subspan(z(cells()), z(cells())), dy.first(z(cells())),
          dy.subspan(z(cells()), z(cells())));
  surfaces(around, y.subspan(z(2 * cells()), z(faces())), dy);
}

double Heating::fastest() const {
  std::vector<double> pull(z(cells()));
  for (const auto& link : mesh_->links) {
    pull[z(link.a)] += 2 * link.area_m;
    pull[z(link.b)] += 2 * link.area_m;
  }
  for (const auto& face : mesh_->faces) pull[z(face.cell)] += face.area_m2 / face.depth_m;
  double most = front_rate_;
  for (int i = 0; i < cells(); ++i) {
    const double t = t_c_[z(i)];
    const double capacity =
        std::min(material_->heat_capacity(t, 0.6 * material_->water),
                 material_->heat_capacity(std::max(t, 10.0), 0.6 * material_->water));
    most = std::max(most, pull[z(i)] * material_->conductivity_at(t) /
                              (material_->density * mesh_->volume_m3[z(i)] * capacity));
  }
  return most;
}

}  // namespace pitwright::food
