#include "call/call.h"

#include <algorithm>
#include <cmath>

#include "call/judge.h"
#include "call/panel.h"
#include "call/verdict.h"
#include "call/watch.h"
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

}  // namespace

Result<Report> verdict(const Burn& known, const Options& options, const Report* at_close) {
  const auto panel = make_panel(known);
  if (!has_reading(known, panel, options.as_known_at_s.has_value()))
    return fail(ErrorKind::bad_input,
                "no air probe has a usable reading inside a stint: check the stints' times, the "
                "time zone and the probes' channels");
  const double end_s = panel.start_s + panel.n * panel.step_s;
  const auto windows =
      find_windows(known, panel, std::min(options.as_known_at_s.value_or(end_s), end_s));
  return judge(known, panel, windows, options, at_close);
}

Result<Report> make_call(const Burn& burn, const Options& options) {
  if (!options.as_known_at_s) return verdict(burn, options, nullptr);
  return Watch().look(burn, *options.as_known_at_s, options.needs_stints);
}

}  // namespace pitwright::call
