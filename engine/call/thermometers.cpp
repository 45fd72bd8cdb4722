#include "call/thermometers.h"

#include <algorithm>
#include <cmath>
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

void put_answer(const ProbeAnswer& answer, ThermometerSeen& seen) {
  if (!std::isfinite(answer.share)) return;
  seen.share = answer.share;
  seen.late_s = answer.late_s;
  if (!answer.period_s || answer.share >= as_much || answer.share <= 0.0) return;
  const double omega = 2.0 * std::numbers::pi / *answer.period_s;
  seen.lag_s = std::sqrt(1.0 / (answer.share * answer.share) - 1.0) / omega;
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
      put_answer(answer, seen);
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
