#include "toast/join.h"

#include <algorithm>
#include <utility>
#include <vector>

namespace pitwright::toast {
namespace {

constexpr int nodes_x = 36, nodes_y = 24;
constexpr double bread_scatter = 1.5;  ///< L*, sd from slice to slice (common practice, no source)

/// The slices that count: their heat where a thermometer tells it, else how dark they are.
std::vector<lay::ToastReading> readings_of(const Ground& ground, const photo::Seen& seen,
                                           const browning::ToastMap& map) {
  const auto own = browning::own_variances(map);
  std::vector<lay::ToastReading> readings;
  for (std::size_t k = 0; k < map.used.size(); ++k) {
    const auto i = static_cast<std::size_t>(map.used[k]);
    const auto& slice = seen.slices[i];
    const double sd2 = slice.lightness_sd * slice.lightness_sd + bread_scatter * bread_scatter;
    const bool heat = !own.empty() && map.heats[i];
    readings.push_back({slice.x_m + ground.left_m, slice.y_m + ground.front_m,
                        heat ? map.heats[i]->mean_c : -slice.color.lightness, heat ? own[k] : sd2});
  }
  return readings;
}

/// The grate by its name; a pit that names none has one.
int grate_of(const lay::SettingLay& setting, const std::string& name) {
  const auto found = std::ranges::find(setting.grates, name, &lay::GrateLay::grate);
  if (found != setting.grates.end()) return static_cast<int>(found - setting.grates.begin());
  return setting.grates.size() == 1 ? 0 : -1;
}

}  // namespace

Result<Joined> join(const Pit& pit, const call::Together& together, const Ground& ground,
                    const photo::Seen& seen, const browning::ToastMap& map) {
  lay::LayOptions options{.nodes_x = nodes_x, .nodes_y = nodes_y, .next_spots = 0};
  options.band_k = ground.matters_k;
  auto lay = lay::make_lay(pit, together, options);
  if (!lay) return std::unexpected(lay.error());
  const auto told = std::ranges::find(lay->settings, ground.setting, &lay::SettingLay::setting);
  if (told == lay->settings.end())
    return fail(ErrorKind::bad_input, "setting '{}' has no counted readings", ground.setting);
  const auto setting = static_cast<int>(told - lay->settings.begin());
  const int grate = grate_of(*told, ground.grate);
  const bool by_order = browning::own_variances(map).empty();
  auto joint = lay::lay_with_toast(*lay, setting, grate, readings_of(ground, seen, map),
                                   ground.matters_k, {.ranked = by_order});
  if (!joint) return std::unexpected(joint.error());
  auto summary = lay::summary_of(told->grates[static_cast<std::size_t>(grate)], *joint);
  return Joined{*std::move(lay),    setting,          grate,   *std::move(joint),
                std::move(summary), ground.matters_k, by_order};
}

}  // namespace pitwright::toast
