#include "toast/burn_probes.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "burns/open_burn.h"
#include "call/call.h"
#include "documents/nearest.h"

namespace pitwright::toast {
namespace {

constexpr double two_sided_95 = 1.959964;

/// The grate meant: the one told, else the only one.
Result<std::string> grate_of(const Burn& burn, const BurnSource& source) {
  std::vector<std::string> names;
  for (const auto& probe : burn.probes)
    if (probe.role == Role::air && std::ranges::find(names, probe.grate) == names.end())
      names.push_back(probe.grate);
  const auto file = source.path.string();
  if (source.grate.empty()) {
    if (names.size() == 1) return names.front();
    return fail(ErrorKind::bad_input, "{}: has spots on {} grates; say which with grate = ...",
                file, names.size());
  }
  if (std::ranges::find(names, source.grate) != names.end()) return source.grate;
  return fail(ErrorKind::bad_input, "{}: has no spot on a grate '{}'{}", file, source.grate,
              documents::suggestion(source.grate, names));
}

const call::Estimate* at_setting(const call::Quantity& quantity, int setting) {
  for (const auto& one : quantity.by_setting)
    if (one.setting == setting && one.estimate) return &*one.estimate;
  return nullptr;
}

double sd_of(const call::Estimate& estimate) {
  return 0.5 * (estimate.high - estimate.low) / two_sided_95;
}

}  // namespace

Result<ToastBurn> open_toast_burn(const BurnSource& source) {
  auto open = burns::open_burn(source.path);
  if (!open) return std::unexpected(open.error());
  auto grate = grate_of(open->burn, source);
  if (!grate) return std::unexpected(grate.error());
  auto report = call::make_call(open->burn, {.as_known_at_s = {}, .needs_stints = false});
  if (!report) return std::unexpected(report.error());
  const auto found = std::ranges::find(report->settings, source.setting);
  if (found == report->settings.end())
    return fail(ErrorKind::bad_input, "{}: has no setting '{}'{}", source.path.string(),
                source.setting, documents::suggestion(source.setting, report->settings));
  const auto setting = static_cast<int>(found - report->settings.begin());
  return ToastBurn{std::move(open->burn), *std::move(report), setting, *std::move(grate)};
}

Result<std::vector<browning::ToastProbe>> probes_of(const ToastBurn& open,
                                                    const BurnSource& source) {
  const auto* level = at_setting(open.report.level, open.setting);
  std::vector<browning::ToastProbe> probes;
  for (const auto& spot : open.report.spots) {
    const auto* run = at_setting(spot.runs, open.setting);
    const auto probe = std::ranges::find_if(open.burn.probes, [&](const Probe& p) {
      return p.role == Role::air && p.spot == spot.spot && p.grate == open.grate && p.x_m && p.y_m;
    });
    if (level == nullptr || run == nullptr || probe == open.burn.probes.end()) continue;
    probes.push_back({spot.spot, *probe->x_m - source.left_m, *probe->y_m - source.front_m,
                      level->value + run->value, std::hypot(sd_of(*level), sd_of(*run))});
  }
  if (!probes.empty()) return probes;
  return fail(ErrorKind::bad_input,
              "{}: no spot on this grate has both a place (x, y) and counted "
              "readings at setting '{}'",
              source.path.string(), source.setting);
}

Result<std::vector<browning::ToastProbe>> probes_of_burn(const BurnSource& source) {
  const auto open = open_toast_burn(source);
  if (!open) return std::unexpected(open.error());
  return probes_of(*open, source);
}

}  // namespace pitwright::toast
