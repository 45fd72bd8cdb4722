#include "mapped/on_grate.h"

#include <algorithm>
#include <cmath>

namespace pitwright::mapped {
namespace {

std::size_t grate_of(const lay::LaySpot& spot, const std::vector<lay::GrateLay>& grates) {
  const auto named = std::ranges::find(grates, spot.grate, &lay::GrateLay::grate);
  const auto found = !spot.grate.empty() && named != grates.end()
                         ? named
                         : std::ranges::min_element(grates, {}, [&](const lay::GrateLay& one) {
                             return std::abs(one.z_m - spot.place.z_m);
                           });
  return static_cast<std::size_t>(found - grates.begin());
}

}  // namespace

std::vector<const lay::LaySpot*> spots_on(const lay::Lay& lay, std::size_t grate) {
  std::vector<const lay::LaySpot*> found;
  for (const auto& spot : lay.spots)
    if (grate_of(spot, lay.settings.front().grates) == grate) found.push_back(&spot);
  return found;
}

}  // namespace pitwright::mapped
