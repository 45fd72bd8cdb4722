#include "rehearse/physics.h"

#include <algorithm>
#include <cmath>

#include "base/expects.h"

namespace pitwright::rehearse {
namespace {

constexpr double kelvin = 273.15;
constexpr double stefan_boltzmann = 5.670374419e-8;  // W/m2/K4, CODATA 2018
constexpr double gravity = 9.80665;                  // m/s2, standard
constexpr double air_heat = 1006.0;                  // J/kg/K, dry air near 300 K, from memory
constexpr double air_gas = 287.05;                   // J/kg/K, dry air
constexpr double pressure = 101325.0;                // Pa
constexpr double least_draught = 0.02;  // Pa: what the fire's own gas keeps up in a cold pit

constexpr double fourth(double x) {
  return (x * x) * (x * x);
}

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

}  // namespace

int setting_index(const PitModel& model, const std::string& name) {
  const auto found = std::ranges::find(model.settings, name, &Setting::name);
  return found == model.settings.end() ? -1 : static_cast<int>(found - model.settings.begin());
}

Physics::Physics(const PitModel& model) : model_(&model) {
  const auto add = [this](const Place& p) {
    lag_s_.push_back(p.lag_s);
    metal_share_.push_back(p.metal_share);
    metal_lag_s_.push_back(p.metal_lag_s);
    wall_share_.push_back(p.wall_share);
    wind_k_s_m_.push_back(p.wind_k_s_m);
    lid_share_.push_back(p.lid_share);
    glow_.push_back(p.glow);
  };
  for (const auto& spot : model.spots) add(spot.place);
  add(model.sensor.place);

  Inputs rest;
  rest.outside_c = model.weather.outside_c;
  rest.wind_m_s = model.weather.wind_m_s;
  rest_draught_kg_s_ = draught_kg_s(rest, model.set_c);

  const auto& b = model.body;
  const auto& f = model.fire;
  const double air_w_k =
      b.plate_air_w_k + b.air_wall_w_k + b.lid_w_k + 2 * rest_draught_kg_s_ * air_heat;
  const double plate_w_k =
      b.plate_air_w_k + 4 * stefan_boltzmann * b.plate_wall_m2 * std::pow(model.set_c + 400.0, 3);
  const double wall_w_k = b.air_wall_w_k + b.wall_deep_w_k + b.wall_out_w_k;
  fastest_s_ = std::min({b.air_j_k / air_w_k, b.plate_j_k / plate_w_k, b.wall_j_k / wall_w_k,
                         b.deep_j_k / (b.wall_deep_w_k + b.deep_out_w_k), f.bed_lag_s,
                         f.flame_lag_s, model.sensor.lag_s, *std::ranges::min_element(lag_s_),
                         *std::ranges::min_element(metal_lag_s_)});
}

// Stack effect and wind: dP = rho_out g H (1 - T_out / T_in) + c rho_out w^2 / 2,
// m = A sqrt(2 rho_in dP). Source: orifice flow and the hydrostatics of two columns of air.
double Physics::draught_kg_s(const Inputs& in, double air_c) const {
  const auto& b = model_->body;
  const double outside_k = in.outside_c + kelvin;
  const double inside_k = air_c + kelvin;
  const double outside_density = pressure / (air_gas * outside_k);
  const double inside_density = pressure / (air_gas * inside_k);
  const double lift =
      std::max(0.0, outside_density * gravity * b.stack_m * (1 - outside_k / inside_k));
  const double push = b.wind_draught * 0.5 * outside_density * in.wind_m_s * in.wind_m_s;
  return in.vent * b.vent_m2 * std::sqrt(2 * inside_density * (lift + push + least_draught));
}

Flows Physics::flows(const Inputs& in, std::span<const double> y) const {
  const auto& b = model_->body;
  const double heat = in.heat * in.quality * y[flame];
  const double windy = 1 + b.wind_loss_s_m * in.wind_m_s;
  const double out = in.outside_c;
  Flows f{};
  f.into_plate = model_->fire.plate_share * heat;
  f.into_air = heat - f.into_plate;
  f.plate_to_air = in.stir * b.plate_air_w_k * (y[plate] - y[air]);
  f.plate_to_wall =
      stefan_boltzmann * b.plate_wall_m2 * (fourth(y[plate] + kelvin) - fourth(y[wall] + kelvin));
  f.air_to_wall = in.stir * b.air_wall_w_k * (y[air] - y[wall]);
  f.air_to_outside = (draught_kg_s(in, y[air]) * air_heat + in.lid * b.lid_w_k) * (y[air] - out);
  f.air_to_load = in.load_w_k * (y[air] - y[load]);
  f.wall_to_deep = b.wall_deep_w_k * (y[wall] - y[deep]);
  f.wall_to_outside = b.wall_out_w_k * windy * (y[wall] - out) - in.sun_w;
  f.deep_to_outside = b.deep_out_w_k * windy * (y[deep] - out);
  return f;
}

double Physics::place_target_c(const Inputs& in, std::span<const double> y, int place) const {
  const auto i = at(place);
  const double excess = (y[plate] - y[air]) / model_->plate_excess_k;
  double x = y[air] + in.lean_k[i] * excess + wall_share_[i] * (y[wall] - y[air]) -
             wind_k_s_m_[i] * in.gust_m_s;
  if (i < in.load_share.size()) x += in.load_share[i] * (y[load] - x);
  x += in.lid * lid_share_[i] * (in.outside_c - x);
  return x;
}

double Physics::sensor_target_c(const Inputs& in, std::span<const double> y) const {
  const auto& s = model_->sensor;
  const int place = places() - 1;
  const double local = y[at(first_place + place)] + (in.eddy_k.empty() ? 0.0 : in.eddy_k.back());
  const double glow = s.glow + in.sensor_glow;
  const double shade = s.shade + in.sensor_shade;
  return local + glow * (y[plate] - local) + shade * (y[wall] - local);
}

double Physics::spot_c(const Inputs& in, std::span<const double> y, int spot) const {
  const auto i = at(spot);
  const double local = y[first_place + i] + (in.eddy_k.empty() ? 0.0 : in.eddy_k[i]);
  return local + glow_[i] * (y[plate] - local);
}

void Physics::derivative(const Inputs& in, std::span<const double> y, std::span<double> dy) const {
  const auto& b = model_->body;
  const auto& fire = model_->fire;
  const Flows f = flows(in, y);

  dy[plate] = (f.into_plate - f.plate_to_air - f.plate_to_wall) / b.plate_j_k;
  dy[air] =
      (f.into_air + f.plate_to_air - f.air_to_wall - f.air_to_outside - f.air_to_load) / b.air_j_k;
  dy[wall] = (f.air_to_wall + f.plate_to_wall - f.wall_to_deep - f.wall_to_outside) / b.wall_j_k;
  dy[deep] = (f.wall_to_deep - f.deep_to_outside) / b.deep_j_k;

  double feed = in.feed_w;
  if (fire.air_driven > 0) {
    const double ratio = draught_kg_s(in, y[air]) / rest_draught_kg_s_;
    feed *= 1 + fire.air_driven * (ratio - 1);
  }
  dy[bed] = (feed - y[bed]) / fire.bed_lag_s;
  dy[flame] = (y[bed] - y[flame]) / fire.flame_lag_s;
  dy[sensor] = (sensor_target_c(in, y) - y[sensor]) / (model_->sensor.lag_s * in.sensor_lag);
  dy[load] = in.load_j_k > 0 ? f.air_to_load / in.load_j_k : 0.0;
  dy[heat_in] = f.into_plate + f.into_air;
  dy[heat_out] = f.air_to_outside + f.wall_to_outside + f.deep_to_outside + f.air_to_load;

  const int n = places();
  for (int i = 0; i < n; ++i) {
    const auto a = at(first_place + i);
    const auto m = at(first_place + n + i);
    const double kappa = metal_share_[at(i)];
    const double target = (1 - kappa) * place_target_c(in, y, i) + kappa * y[m];
    dy[a] = (target - y[a]) / lag_s_[at(i)];
    dy[m] = (y[a] - y[m]) / metal_lag_s_[at(i)];
  }
}

void Integrator::advance(const Physics& physics, const Inputs& in, std::span<double> y,
                         double span_s, int steps) {
  expects(y.size() == y_.size() && steps > 0);
  const double h = span_s / steps;
  const auto size = y.size();
  for (int step = 0; step < steps; ++step) {
    physics.derivative(in, y, k1_);
    for (std::size_t i = 0; i < size; ++i) y_[i] = y[i] + 0.5 * h * k1_[i];
    physics.derivative(in, y_, k2_);
    for (std::size_t i = 0; i < size; ++i) y_[i] = y[i] + 0.5 * h * k2_[i];
    physics.derivative(in, y_, k3_);
    for (std::size_t i = 0; i < size; ++i) y_[i] = y[i] + h * k3_[i];
    physics.derivative(in, y_, k4_);
    for (std::size_t i = 0; i < size; ++i)
      y[i] += h / 6 * (k1_[i] + 2 * k2_[i] + 2 * k3_[i] + k4_[i]);
  }
}

}  // namespace pitwright::rehearse
