#include "burns/twin_units.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "base/expects.h"
#include "burns/channels.h"

namespace pitwright::burns {
namespace {

// Two thermometers at one spot read within a few degrees of each other; a scale mistaken near the
// heat of a fire shows 30 K and more. Both limits are our own choice.
constexpr double far_apart_k = 15.0, close_k = 5.0;
constexpr double shortest_together_s = 300.0;

double median_between(const Readings& readings, double from_s, double to_s) {
  std::vector<double> kept;
  for (std::size_t i = 0; i < readings.seconds.size(); ++i) {
    const double t = readings.seconds[i];
    if (t >= from_s && t <= to_s && std::isfinite(readings.values[i]))
      kept.push_back(readings.values[i]);
  }
  if (kept.empty()) return std::nan("");
  const auto middle = kept.begin() + std::ssize(kept) / 2;
  std::ranges::nth_element(kept, middle);
  return *middle;
}

/// The same reading taken to be in the other scale [degC].
double in_other_scale(double celsius, Scale taken) {
  return taken == Scale::fahrenheit ? degC(celsius).fahrenheit() : degF(celsius).celsius();
}

bool are_twins(const Probe& a, const Probe& b) {
  return a.role == Role::air && b.role == Role::air && !a.spot.empty() && a.spot == b.spot;
}

/// Do they agree in the other scale of `untold` only?
bool disagree_by_scale(const Probe& untold, const Probe& twin, Scale taken) {
  const auto &a = untold.readings, &b = twin.readings;
  if (a.seconds.empty() || b.seconds.empty()) return false;
  const double from_s = std::max(a.seconds.front(), b.seconds.front());
  const double to_s = std::min(a.seconds.back(), b.seconds.back());
  if (to_s - from_s < shortest_together_s) return false;
  const double own = median_between(a, from_s, to_s), other = median_between(b, from_s, to_s);
  return std::abs(own - other) > far_apart_k &&
         std::abs(in_other_scale(own, taken) - other) < close_k;
}

}  // namespace

Result<void> check_twin_units(const documents::BurnDocument& document,
                              std::span<const logs::Log> logs, const Burn& burn) {
  expects(burn.probes.size() == document.probes.size());
  std::vector<std::size_t> log_of;
  std::vector<bool> is_untold;
  for (const auto& spec : document.probes) {
    const auto at = find_channel(document, logs, spec.channel);
    if (!at) return std::unexpected(at.error());
    log_of.push_back(at->log);
    is_untold.push_back(!logs[at->log].channels[at->channel].unit_from_file &&
                        !document.logs[at->log].hints.unit);
  }
  for (std::size_t i = 0; i < burn.probes.size(); ++i) {
    for (std::size_t k = 0; k < burn.probes.size() && is_untold[i]; ++k) {
      if (log_of[i] == log_of[k] || !are_twins(burn.probes[i], burn.probes[k])) continue;
      if (!disagree_by_scale(burn.probes[i], burn.probes[k], burn.scale)) continue;
      const auto& file = document.logs[log_of[i]].file;
      const bool fahrenheit = burn.scale == Scale::fahrenheit;
      return fail(ErrorKind::bad_input,
                  "{}: '{}' and '{}' both sit at spot '{}', but agree only if '{}' is in {}; write "
                  "[[log]] file = \"{}\" with unit = \"{}\"",
                  document.at(document.probes[i].channel_place), burn.probes[i].channel,
                  burn.probes[k].channel, burn.probes[i].spot, file, fahrenheit ? "C" : "F", file,
                  fahrenheit ? "C" : "F");
    }
  }
  return {};
}

}  // namespace pitwright::burns
