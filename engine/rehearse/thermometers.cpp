#include "rehearse/thermometers.h"

#include <cmath>
#include <limits>

namespace pitwright::rehearse {
namespace {

/// First-order lag answering a ramp from a to b over the tick, exactly.
double after_ramp(double shown, double a, double b, double lag_s) {
  if (lag_s <= 0) return b;
  const double slope = (b - a) / tick_s;
  const double fade = std::exp(-tick_s / lag_s);
  return b - slope * lag_s + (shown - a + slope * lag_s) * fade;
}

int spot_at(const Thermometer& thermometer, double t_s) {
  int spot = thermometer.spot;
  for (const auto& move : thermometer.moves) {
    if (t_s >= move.at_s) spot = move.spot;
  }
  return spot;
}

bool is_temperature(Role role) {
  return role != Role::wind && role != Role::drive;
}

}  // namespace

LoggerAtWork::LoggerAtWork(const PitModel& model, const Logger& logger, std::uint64_t seed,
                           std::uint64_t stream)
    : channels_(logger.thermometers.size()),
      random_(seed, stream),
      next_s_(0),
      set_c_(model.set_c) {
  record_.logger = logger;
  record_.cells.resize(channels_.size());
  for (std::size_t i = 0; i < channels_.size(); ++i)
    channels_[i].lag_s = logger.thermometers[i].lag_s;
}

double LoggerAtWork::felt_c(const Burning& pit, const Thermometer& thermometer, Channel& channel,
                            double t_s) const {
  const auto& y = pit.state();
  switch (thermometer.role) {
    case Role::air: {
      const double air_c = pit.spot_c(spot_at(thermometer, t_s));
      if (thermometer.touching <= 0) return air_c;
      const double rail_c = y[wall] + thermometer.rail * (y[plate] - y[wall]);
      if (!channel.started) channel.metal_c = rail_c;
      const double keep = std::exp(-tick_s / thermometer.touching_lag_s);
      channel.metal_c = rail_c + keep * (channel.metal_c - rail_c);
      return air_c + thermometer.touching * (channel.metal_c - air_c);
    }
    case Role::dial:
      return y[sensor];
    case Role::outside:
      return pit.inputs().outside_c;
    case Role::wind:
      return kmh(pit.inputs().wind_m_s);
    case Role::drive:
      return 100 * pit.inputs().feed_w / pit.physics().model().fire.high_w;
    case Role::set:
      return set_c_;
    case Role::food:
      break;
  }
  return std::numeric_limits<double>::quiet_NaN();  // rehearse() refuses food channels
}

double LoggerAtWork::cell(std::size_t column, double value, double t_s) {
  const auto& logger = record_.logger;
  const auto& thermometer = logger.thermometers[column];
  auto& channel = channels_[column];
  double shown = value + thermometer.bias_k + thermometer.noise_k * random_.normal();
  if (is_temperature(thermometer.role) && logger.scale == Scale::fahrenheit)
    shown = degC(shown).fahrenheit();
  if (logger.rounding > 0) shown = std::round(shown / logger.rounding) * logger.rounding;
  for (const auto& fault : thermometer.faults) {
    if (t_s < fault.from_s || t_s >= fault.to_s) continue;
    if (fault.frozen) return channel.frozen;
    record_.words[{column, record_.true_s.size()}] = fault.word;
    return std::numeric_limits<double>::quiet_NaN();
  }
  channel.frozen = shown;
  return shown;
}

void LoggerAtWork::take_row(double t_s, double share) {
  const auto& logger = record_.logger;
  for (std::size_t i = 0; i < channels_.size(); ++i) {
    const auto& channel = channels_[i];
    const double value = channel.was_c + share * (channel.is_c - channel.was_c);
    record_.cells[i].push_back(cell(i, value, t_s));
  }
  record_.true_s.push_back(t_s);
  const double clock_s = t_s + logger.clock_ahead_s + logger.clock_drift_s_per_h * t_s / 3600;
  const double shown_s = logger.interval_s >= 5 ? 1.0 : 0.1;
  record_.stamp_s.push_back(std::round(clock_s / shown_s) * shown_s);
}

void LoggerAtWork::tick(const Burning& pit, double t_s) {
  for (std::size_t i = 0; i < channels_.size(); ++i) {
    auto& channel = channels_[i];
    const auto& thermometer = record_.logger.thermometers[i];
    channel.before_c = channel.now_c;
    channel.now_c = felt_c(pit, thermometer, channel, t_s);
    if (!channel.started) channel.before_c = channel.is_c = channel.now_c;
    channel.started = true;
    channel.was_c = channel.is_c;
    channel.is_c = after_ramp(channel.was_c, channel.before_c, channel.now_c, channel.lag_s);
  }
  while (next_s_ <= t_s + 1e-9) {
    take_row(next_s_, 1 - (t_s - next_s_) / tick_s);
    next_s_ += record_.logger.interval_s;
  }
}

LoggerRecord LoggerAtWork::finish() && {
  return std::move(record_);
}

}  // namespace pitwright::rehearse
