#include "rehearse/feeding.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace pitwright::rehearse {

double split_period_s(const Fire& fire) {
  return std::max(1.0, std::round(fire.period_s / tick_s)) * tick_s;
}

Feeding::Feeding(const Fire& fire, double set_c, double heat_w, double start_s,
                 numeric::Random* human)
    : fire_(fire), set_c_(set_c), human_(human), cycle_start_s_(start_s), next_split_s_(start_s) {
  const auto delay = static_cast<std::size_t>(std::lround(fire.dead_time_s / tick_s));
  const double standing = fire.kind == FireKind::splits ? 0.0 : heat_w;
  on_its_way_w_.assign(delay, standing);
  const double span = std::max(1.0, fire.high_w - fire.low_w);
  share_ = integral_ = std::clamp((heat_w - fire.low_w) / span, 0.0, 1.0);
}

double Feeding::relay_w(double sensor_c) {
  if (sensor_c < set_c_ - fire_.half_band_k) on_ = true;
  if (sensor_c > set_c_ + fire_.half_band_k) on_ = false;
  return on_ ? fire_.high_w : fire_.low_w;
}

// PI with the integral held while the output is at its stop.
double Feeding::asked_share(double sensor_c) {
  const double error_k = set_c_ - sensor_c;
  const double asked = fire_.gain_per_k * error_k + integral_;
  const double share = std::clamp(asked, 0.0, 1.0);
  const bool stuck = (asked > 1 && error_k > 0) || (asked < 0 && error_k < 0);
  if (!stuck) integral_ += fire_.gain_per_k * error_k * tick_s / fire_.reset_s;
  return share;
}

// The share asked for at the start of a cycle is fed at full rate from the cycle's start.
double Feeding::feeder_w(double t_s, double sensor_c) {
  const double asked = asked_share(sensor_c);
  if (t_s >= cycle_start_s_ + fire_.cycle_s) cycle_start_s_ += fire_.cycle_s;
  if (t_s < cycle_start_s_ + tick_s) share_ = asked;
  const double duty = (fire_.low_w + share_ * (fire_.high_w - fire_.low_w)) / fire_.high_w;
  const double on_until_s = cycle_start_s_ + duty * fire_.cycle_s;
  const double overlap_s = std::clamp(on_until_s - t_s, 0.0, tick_s);
  return fire_.high_w * overlap_s / tick_s;
}

double Feeding::damper_w(double sensor_c) {
  const double reach = tick_s / fire_.travel_s;
  share_ += std::clamp(asked_share(sensor_c) - share_, -reach, reach);
  return fire_.low_w + share_ * (fire_.high_w - fire_.low_w);
}

// A split is worth the mean heat over its period, more when the dial is low; all of it lands within
// one tick. While the pit is far below heat, twice as often.
double Feeding::split_w(double t_s, double sensor_c) {
  if (t_s < next_split_s_) return 0.0;
  const double size_draw = human_ ? human_->normal() : 0.0;
  const double wait_draw = human_ ? human_->normal() : 0.0;
  const double look = 1 + fire_.look_gain_per_k * (set_c_ - sensor_c);
  const double size =
      std::clamp(look, 0.3, 2.0) * std::max(0.3, 1 + fire_.size_scatter * size_draw);
  const double hurry = sensor_c < set_c_ - 40 ? 0.5 : 1.0;
  const double wait = hurry * std::max(0.3, 1 + fire_.period_scatter * wait_draw);
  next_split_s_ += split_period_s(fire_) * wait;
  splits_s_.push_back(t_s);
  return fire_.high_w * split_period_s(fire_) * size / tick_s;
}

double Feeding::decided_w(double t_s, double sensor_c) {
  switch (fire_.kind) {
    case FireKind::relay:
      return relay_w(sensor_c);
    case FireKind::feeder:
      return feeder_w(t_s, sensor_c);
    case FireKind::damper:
      return damper_w(sensor_c);
    case FireKind::splits:
      return split_w(t_s, sensor_c);
    case FireKind::steady:
      return fire_.high_w;
  }
  std::unreachable();
}

double Feeding::feed_w(double t_s, double sensor_c) {
  double feed = decided_w(t_s, sensor_c);
  if (used_j_ >= fire_.fuel_j) {
    empty_at_s_ = std::min(empty_at_s_, t_s);
    feed = 0.0;
  }
  used_j_ += feed * tick_s;
  if (on_its_way_w_.empty()) return feed;
  const double arrives = std::exchange(on_its_way_w_[next_], feed);
  next_ = (next_ + 1) % on_its_way_w_.size();
  return arrives;
}

}  // namespace pitwright::rehearse
