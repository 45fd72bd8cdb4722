#include "live/newest.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace pitwright::live {
namespace {

Newest newest_of(const Probe& probe) {
  Newest one{probe.channel, probe.spot, probe.role, {}, {}, {}};
  const auto& readings = probe.readings;
  if (readings.seconds.empty()) return one;
  one.at_s = readings.seconds.back();
  const bool is_heat = probe.role != Role::wind && probe.role != Role::drive;
  const double value = readings.values.back() + (is_heat ? probe.correction.kelvins() : 0.0);
  if (std::isfinite(value)) one.value = value;
  return one;
}

/// Mean over spots (two probes at one spot averaged first) of those heard lately; empty under two.
std::optional<double> level_of(const std::vector<Newest>& all, double since_s) {
  std::map<std::string, std::pair<double, int>> spots;
  for (const auto& one : all) {
    if (one.role != Role::air || !one.value || *one.at_s < since_s) continue;
    auto& [sum, count] = spots[one.spot];
    sum += *one.value;
    ++count;
  }
  if (spots.size() < 2) return std::nullopt;
  double sum = 0.0;
  for (const auto& [spot, mean] : spots) sum += mean.first / mean.second;
  return sum / static_cast<double>(spots.size());
}

}  // namespace

std::vector<Newest> newest_of(const Burn& burn, double patience_s) {
  std::vector<Newest> all;
  std::map<std::string, std::size_t> place;  // a channel that moved is where it sat last
  double last_s = -HUGE_VAL;
  for (const auto& probe : burn.probes) {
    const auto one = newest_of(probe);
    if (one.at_s) last_s = std::max(last_s, *one.at_s);
    const auto [known, is_new] = place.try_emplace(probe.channel, all.size());
    if (is_new)
      all.push_back(one);
    else if (one.at_s && (!all[known->second].at_s || *one.at_s >= *all[known->second].at_s))
      all[known->second] = one;
  }
  const double since_s = last_s - patience_s;
  if (const auto level = level_of(all, since_s))
    for (auto& one : all)
      if (one.role == Role::air && one.value && *one.at_s >= since_s)
        one.run_k = *one.value - *level;
  return all;
}

}  // namespace pitwright::live
