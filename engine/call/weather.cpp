#include "call/weather.h"

#include <algorithm>
#include <cmath>

namespace pitwright::call {
namespace {

constexpr double material_outside_k = 8.0 / 1.8;
constexpr double material_wind_kmh = 5.0 * 1.609344;
constexpr double most_of_range = 0.6;

/// Mean of a channel over a block; NaN where it was not read.
double block_mean(const std::vector<double>& channel, const Block& block) {
  double sum = 0.0;
  int count = 0;
  for (int j = block.first; j < block.last; ++j) {
    const double value = channel[static_cast<std::size_t>(j)];
    if (!std::isfinite(value)) continue;
    sum += value;
    ++count;
  }
  return count > 0 ? sum / count : std::nan("");
}

std::optional<WeatherMove> channel_move(const char* name, const std::vector<double>& channel,
                                        double material, const std::vector<Block>& blocks, int from,
                                        int to) {
  if (channel.empty()) return std::nullopt;
  double low = HUGE_VAL, high = -HUGE_VAL;
  double sums[2] = {0.0, 0.0};
  int counts[2] = {0, 0};
  for (const auto& block : blocks) {
    const double value = block_mean(channel, block);
    if (!std::isfinite(value)) continue;
    low = std::min(low, value);
    high = std::max(high, value);
    if (block.setting != from && block.setting != to) continue;
    const int side = block.setting == to ? 1 : 0;
    sums[side] += value;
    ++counts[side];
  }
  if (counts[0] == 0 || counts[1] == 0) return std::nullopt;
  const double moved = sums[1] / counts[1] - sums[0] / counts[0];
  if (std::abs(moved) < material || std::abs(moved) < most_of_range * (high - low))
    return std::nullopt;
  return WeatherMove{name, moved};
}

/// Largest difference of the means of the hours after and before a gap between blocks.
std::optional<Front> largest_front(const char* name, const std::vector<double>& channel,
                                   double material, const std::vector<Block>& blocks) {
  constexpr double hour_s = 3600.0;
  std::optional<Front> largest;
  if (channel.empty()) return largest;
  for (std::size_t k = 1; k < blocks.size(); ++k) {
    const double at_s = 0.5 * (blocks[k - 1].middle_s + blocks[k].middle_s);
    double sums[2] = {0.0, 0.0};
    int counts[2] = {0, 0};
    for (const auto& block : blocks) {
      const double value = block_mean(channel, block);
      if (!std::isfinite(value) || std::abs(block.middle_s - at_s) > hour_s) continue;
      const int side = block.middle_s > at_s ? 1 : 0;
      sums[side] += value;
      ++counts[side];
    }
    if (counts[0] == 0 || counts[1] == 0) continue;
    const double moved = sums[1] / counts[1] - sums[0] / counts[0];
    if (std::abs(moved) < material || (largest && std::abs(moved) <= std::abs(largest->amount)))
      continue;
    largest = Front{name, at_s, moved, 0.0};
  }
  return largest;
}

/// Mean of a channel over a setting's blocks; NaN where it was not read.
double setting_mean(const std::vector<double>& channel, const std::vector<Block>& blocks,
                    int setting) {
  double sum = 0.0;
  int count = 0;
  for (const auto& block : blocks) {
    const double value = block.setting == setting ? block_mean(channel, block) : std::nan("");
    if (!std::isfinite(value)) continue;
    sum += value;
    ++count;
  }
  return count > 0 ? sum / count : std::nan("");
}

/// Share of a setting's counted time that marked events of one kind cover.
double share_covered(const Burn& burn, EventKind kind, const Panel& panel,
                     const std::vector<Block>& blocks, int setting) {
  double covered = 0.0, all = 0.0;
  for (const auto& block : blocks) {
    if (block.setting != setting) continue;
    const double from = panel.start_s + block.first * panel.step_s;
    const double to = panel.start_s + block.last * panel.step_s;
    all += to - from;
    for (const auto& event : burn.events)
      if (event.kind == kind)
        covered += std::max(
            0.0, std::min(to, event.until_s.value_or(event.at_s)) - std::max(from, event.at_s));
  }
  return all > 0.0 ? covered / all : 0.0;
}

}  // namespace

std::optional<WeatherMove> weather_against_order(const Burn& burn, const Panel& panel,
                                                 const std::vector<Block>& blocks, int from,
                                                 int to) {
  constexpr double much = 0.5, little = 0.1;
  if (auto move = channel_move("outside", panel.outside, material_outside_k, blocks, from, to))
    return move;
  if (auto move = channel_move("wind", panel.wind, material_wind_kmh, blocks, from, to))
    return move;
  for (const EventKind kind : {EventKind::gust, EventKind::rain}) {
    const double a = share_covered(burn, kind, panel, blocks, from);
    const double b = share_covered(burn, kind, panel, blocks, to);
    if (std::max(a, b) >= much && std::min(a, b) <= little)
      return WeatherMove{std::string(name_of(kind)), b - a};
  }
  return std::nullopt;
}

std::optional<Front> front_set_off(const Burn& burn, const Panel& panel,
                                   const std::vector<Block>& blocks, int settings) {
  if (settings < 2) return std::nullopt;
  for (int from = 0; from < settings; ++from)
    for (int to = from + 1; to < settings; ++to)
      if (weather_against_order(burn, panel, blocks, from, to)) return std::nullopt;
  auto front = largest_front("outside", panel.outside, material_outside_k, blocks);
  const auto& channel = front ? panel.outside : panel.wind;
  if (!front) front = largest_front("wind", panel.wind, material_wind_kmh, blocks);
  if (!front) return std::nullopt;
  double low = HUGE_VAL, high = -HUGE_VAL;
  for (int k = 0; k < settings; ++k) {
    const double mean = setting_mean(channel, blocks, k);
    if (!std::isfinite(mean)) continue;
    low = std::min(low, mean);
    high = std::max(high, mean);
  }
  front->between_settings = high > low ? high - low : 0.0;
  return front;
}

}  // namespace pitwright::call
