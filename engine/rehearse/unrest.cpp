#include "rehearse/unrest.h"

#include <algorithm>
#include <cmath>

namespace pitwright::rehearse {
namespace {

constexpr double eddy_lag_s = 30;

/// Centred and scaled to root mean square 1; empty where all are equal.
std::vector<double> standardized(std::vector<double> values) {
  if (values.empty()) return {};
  const auto n = static_cast<double>(values.size());
  double mean = 0;
  for (const double v : values) mean += v / n;
  double square = 0;
  for (double& v : values) {
    v -= mean;
    square += v * v / n;
  }
  if (square < 1e-8) return {};
  for (double& v : values) v /= std::sqrt(square);
  return values;
}

double share_done(const Front& front, double t_s) {
  return std::clamp((t_s - front.at_s) / std::max(1.0, front.within_s), 0.0, 1.0);
}

}  // namespace

Wander::Wander(double lag_s, numeric::Random& random)
    : keep_(std::exp(-tick_s / lag_s)),
      fresh_(std::sqrt(1 - keep_ * keep_)),
      value_(random.normal()) {}

void Wander::tick(numeric::Random& random) {
  value_ = keep_ * value_ + fresh_ * random.normal();
}

std::vector<std::vector<double>> lay_modes(const PitModel& model) {
  std::vector<std::vector<double>> modes;
  for (const auto coordinate : {&Spot::x_m, &Spot::y_m, &Spot::z_m}) {
    std::vector<double> values;
    for (const auto& spot : model.spots) values.push_back(spot.*coordinate);
    auto mode = standardized(std::move(values));
    if (!mode.empty()) modes.push_back(std::move(mode));
  }
  return modes;
}

Shift draw_resetting(const PitModel& model, numeric::Random& random) {
  const auto& d = model.disturbance;
  const auto n = model.spots.size();
  Shift shift;
  shift.level_k = d.resetting_level_k * random.normal();
  shift.lean_k.assign(n, 0.0);
  const auto modes = lay_modes(model);
  const double own = std::sqrt(modes.empty() ? 1.0 : 0.5);
  double mean = 0;
  for (double& v : shift.lean_k) {
    v = d.resetting_lay_k * own * random.normal();
    mean += v / static_cast<double>(n);
  }
  for (double& v : shift.lean_k) v -= mean;
  for (const auto& mode : modes) {
    const double size =
        d.resetting_lay_k * std::sqrt(0.5 / static_cast<double>(modes.size())) * random.normal();
    for (std::size_t i = 0; i < n; ++i) shift.lean_k[i] += size * mode[i];
  }
  return shift;
}

Unrest::Unrest(const PitModel& model, const Plan& plan, std::uint64_t seed)
    : model_(model),
      plan_(plan),
      random_(seed, 1),
      modes_(lay_modes(model)),
      gust_(model.disturbance.gust_lag_s, random_),
      level_(model.disturbance.drift_lag_s, random_) {
  for (std::size_t i = 0; i < modes_.size(); ++i)
    lay_.emplace_back(model.disturbance.drift_lag_s, random_);
  for (std::size_t i = 0; i <= model.spots.size(); ++i) eddies_.emplace_back(eddy_lag_s, random_);
  drift_.lean_k.assign(model.spots.size(), 0.0);
}

void Unrest::apply(double t_s, Inputs& in) {
  gust_.tick(random_);
  level_.tick(random_);
  for (auto& w : lay_) w.tick(random_);
  for (auto& w : eddies_) w.tick(random_);

  const auto& d = model_.disturbance;
  const auto& w = model_.weather;
  const double hours = std::max(0.0, t_s) / 3600;
  in.outside_c = w.outside_c + w.outside_k_per_h * hours;
  double mean_wind = w.wind_m_s;
  if (plan_.front) {
    const double done = share_done(*plan_.front, t_s);
    in.outside_c += done * (plan_.front->outside_c - in.outside_c);
    mean_wind += done * (plan_.front->wind_m_s - mean_wind);
  }
  in.wind_m_s = std::max(0.0, mean_wind + d.gust_m_s * gust_.value());
  in.gust_m_s = in.wind_m_s - w.wind_m_s;
  in.sun_w = std::max(0.0, w.sun_w + w.sun_per_h * hours);
  in.quality = std::max(0.1, 1 + d.fuel_per_h * hours);
  for (std::size_t i = 0; i < model_.spots.size(); ++i)
    in.eddy_k[i] = model_.spots[i].place.eddy_k * eddies_[i].value();
  in.eddy_k.back() = model_.sensor.place.eddy_k * eddies_.back().value();

  drift_.level_k = d.drift_level_k * level_.value();
  std::ranges::fill(drift_.lean_k, 0.0);
  for (std::size_t m = 0; m < modes_.size(); ++m) {
    const double size =
        d.drift_lay_k / std::sqrt(static_cast<double>(modes_.size())) * lay_[m].value();
    for (std::size_t i = 0; i < drift_.lean_k.size(); ++i) drift_.lean_k[i] += size * modes_[m][i];
  }
}

void apply_calm(const PitModel& model, Inputs& in) {
  in.outside_c = model.weather.outside_c;
  in.wind_m_s = model.weather.wind_m_s;
  in.gust_m_s = 0;
  in.sun_w = model.weather.sun_w;
  in.quality = 1;
  std::ranges::fill(in.eddy_k, 0.0);
}

}  // namespace pitwright::rehearse
