#include "call/call.h"

#include <algorithm>
#include <cmath>

#include "call/judge.h"
#include "call/panel.h"
#include "call/windows.h"

namespace pitwright::call {
namespace {

/// Is any air reading inside any stint? A running burn may still wait for its first one.
bool has_reading(const Burn& burn, const Panel& panel, bool is_running) {
  for (const auto& spot : panel.spots)
    for (int j = 0; j < panel.n; ++j) {
      if (!std::isfinite(spot.celsius[static_cast<std::size_t>(j)])) continue;
      const double t = panel.start_s + (j + 0.5) * panel.step_s;
      if (is_running) return true;
      if (std::ranges::any_of(burn.stints,
                              [t](const Stint& s) { return s.from_s <= t && t < s.to_s; }))
        return true;
    }
  return false;
}

/// The burn as it was known at a moment: no later reading, no later event. The stints stay: they
/// are the plan, and windows look no further than the moment.
Burn known_at(Burn burn, double now_s) {
  for (auto& probe : burn.probes) {
    auto& [seconds, values] = probe.readings;
    const auto count = std::ranges::upper_bound(seconds, now_s) - seconds.begin();
    seconds.resize(static_cast<std::size_t>(count));
    values.resize(static_cast<std::size_t>(count));
  }
  std::erase_if(burn.events, [=](const Event& event) { return event.at_s > now_s; });
  for (auto& event : burn.events)
    if (event.until_s && *event.until_s > now_s) event.until_s.reset();
  return burn;
}

}  // namespace

Result<Report> make_call(const Burn& whole, const Options& options) {
  std::optional<Burn> cut;
  if (options.as_known_at_s) cut = known_at(whole, *options.as_known_at_s);
  const Burn& burn = cut ? *cut : whole;
  const auto panel = make_panel(burn);
  if (!has_reading(burn, panel, options.as_known_at_s.has_value()))
    return fail(ErrorKind::bad_input,
                "no air probe has a usable reading inside a stint: check the stints' times, the "
                "time zone and the probes' channels");
  const double end_s = panel.start_s + panel.n * panel.step_s;
  const auto windows =
      find_windows(burn, panel, std::min(options.as_known_at_s.value_or(end_s), end_s));
  return judge(burn, panel, windows, options);
}

}  // namespace pitwright::call
