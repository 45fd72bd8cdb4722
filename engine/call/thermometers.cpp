#include "call/thermometers.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>

#include "call/call.h"
#include "call/panel.h"
#include "series/robust.h"

namespace pitwright::call {
namespace {

constexpr double as_much = 0.95;  ///< of the swing: as the others, within what such shares scatter

bool is_temperature(Role role) {
  return role == Role::air || role == Role::dial || role == Role::food || role == Role::outside;
}

bool is_about_thermometers(const Trouble& trouble) {
  return trouble.kind == TroubleKind::clock ||
         (trouble.kind == TroubleKind::probe && trouble.code != TroubleCode::one_probe_decides);
}

/// What share of the swing a probe of n shows whose lag turns the swing by atan(turn): itself
/// |z| = |1 / (1 + i turn)|, over a usual probe's answer to the mean of the others, the slow one in
/// it.
double share_of(double turn, double n) {
  const std::complex<double> z = 1.0 / std::complex<double>(1.0, turn);
  return std::abs(z) * std::abs(n - 2.0 + z) / (n - 1.0);
}

/// The turn of a share below 1, by bisection: the share falls as the turn grows.
double turn_of(double share, double n) {
  double low = 0.0, high = 100.0;
  constexpr int halvings = 50;
  for (int i = 0; i < halvings; ++i) {
    const double middle = 0.5 * (low + high);
    (share_of(middle, n) > share ? low : high) = middle;
  }
  return low;
}

void put_answer(const ProbeAnswer& answer, std::size_t count, ThermometerSeen& seen) {
  if (!std::isfinite(answer.share)) return;
  seen.share = answer.share;
  seen.late_s = answer.late_s;
  if (!answer.period_s || answer.share >= as_much || answer.share <= 0.0) return;
  seen.lag_s = turn_of(answer.share, static_cast<double>(count)) * *answer.period_s /
               (2.0 * std::numbers::pi);
}

}  // namespace

ThermometersSeen see_thermometers(const Burn& burn) {
  const auto panel = make_panel(burn);
  ThermometersSeen out;
  for (const auto& probe : burn.probes) {
    if (!is_temperature(probe.role)) continue;
    ThermometerSeen seen{probe.channel, probe.spot, probe.role, {}, 0.0, {}, {}, {}, {}};
    const double usual = series::median(probe.readings.values);
    if (std::isfinite(usual)) {
      seen.add_k = correction_k(probe, usual);
      seen.usual_c = usual + seen.add_k;
      seen.uncertainty_k = uncertainty_k(probe, usual);
    }
    for (const auto& answer : panel.answers) {
      if (probe.role != Role::air || answer.channel != probe.channel || answer.spot != probe.spot)
        continue;
      put_answer(answer, panel.answers.size(), seen);
      out.period_s = answer.period_s;
    }
    out.probes.push_back(seen);
  }
  // Swaps and clocks need the counted windows; a burn without any still has its panel.
  const auto report = make_call(burn, {.as_known_at_s = {}, .needs_stints = false});
  std::ranges::copy_if(report ? report->troubles : panel.troubles, std::back_inserter(out.troubles),
                       is_about_thermometers);
  return out;
}

}  // namespace pitwright::call
