#include "call/seen.h"

#include <algorithm>
#include <cmath>

#include "series/smooth.h"

namespace pitwright::call {
namespace {

/// Stints of one setting this close together are one stretch.
constexpr double joint_s = 120.0;

}  // namespace

int Seen::index_of(double t) const {
  const double j = std::ceil((t - start_s) / step_s - 0.5);
  return static_cast<int>(std::clamp(j, 0.0, static_cast<double>(n)));
}

Seen seen_of(const Panel& panel, double as_known_at_s) {
  Seen seen;
  seen.start_s = panel.start_s;
  seen.step_s = panel.step_s;
  const double known = std::floor((as_known_at_s - panel.start_s) / panel.step_s + 1e-9);
  // The last bin of a finished burn may be a partly filled one; it counts when the burn is over.
  const bool is_over = as_known_at_s >= panel.start_s + (panel.n - 1) * panel.step_s;
  seen.n = is_over ? panel.n : static_cast<int>(std::clamp(known, 0.0, double(panel.n)));
  for (const PanelSpot& spot : panel.spots) {
    seen.spots.push_back(std::span(spot.celsius).first(static_cast<std::size_t>(seen.n)));
  }
  auto common = series::common_of(seen.spots, seen.n);
  seen.level = std::move(common.common);
  seen.offsets = std::move(common.offsets);
  seen.excluded.assign(static_cast<std::size_t>(seen.n), 0);
  return seen;
}

bool carries_on(const Burn& burn, std::size_t stint) {
  if (stint == 0) return false;
  const Stint& before = burn.stints[stint - 1];
  const Stint& now = burn.stints[stint];
  return before.setting == now.setting && now.from_s - before.to_s < joint_s;
}

std::vector<ChangeMoment> changes_of(const Burn& burn) {
  std::vector<ChangeMoment> out;
  double stretch_from = 0.0;
  for (std::size_t k = 0; k < burn.stints.size(); ++k) {
    const Stint& now = burn.stints[k];
    if (carries_on(burn, k)) {
      if (!out.empty()) out.back().after_to_s = now.to_s;
      continue;
    }
    if (k > 0) {
      out.push_back({static_cast<int>(k), now.from_s, stretch_from,
                     std::min(burn.stints[k - 1].to_s, now.from_s), now.to_s});
    }
    stretch_from = now.from_s;
  }
  return out;
}

}  // namespace pitwright::call
