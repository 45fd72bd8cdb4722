#include "call/judge.h"

#include <algorithm>

#include "call/assemble.h"
#include "call/explain.h"
#include "call/join.h"
#include "call/kept_words.h"
#include "call/live.h"
#include "call/more_stints.h"
#include "call/trust.h"
#include "series/robust.h"

namespace pitwright::call {
namespace {

constexpr double unchecked_k = 4.0 / 1.8;  // a dial nobody checked: +-4 degF, common practice

double dial_uncertainty_k(const Burn& burn) {
  for (const auto& probe : burn.probes) {
    if (probe.role != Role::dial) continue;
    if (const auto told = uncertainty_k(probe, series::median(probe.readings.values))) return *told;
  }
  return unchecked_k;
}

bool has_open_stint(const Windows& windows) {
  return std::ranges::any_of(windows.stints, [](const StintCall& stint) {
    return stint.counted_from_s && stint.state != StintState::closed &&
           stint.state != StintState::spoiled;
  });
}

}  // namespace

int closed_stints(const Windows& windows) {
  return static_cast<int>(std::ranges::count_if(windows.stints, [](const StintCall& stint) {
    return stint.counted_from_s && stint.state == StintState::closed;
  }));
}

Report judge(const Burn& burn, const Panel& panel, const Windows& windows, const Options& options,
             const Report* at_close) {
  Report report;
  report.settings = windows.settings;
  report.soaked_at_s = windows.soaked_at_s;
  report.swing = windows.swing;
  report.swings = windows.swings;
  report.swing_by_setting = windows.swing_by_setting;
  report.stints = windows.stints;
  report.lids = windows.lids;
  report.troubles = panel.troubles;
  report.troubles.insert(report.troubles.end(), windows.troubles.begin(), windows.troubles.end());

  const auto moments = find_moments(panel, windows);
  const auto now = make_tables(panel, windows, moments, false);
  const bool open = has_open_stint(windows);
  const bool split = open || at_close != nullptr;
  const auto of_closed =
      open && at_close == nullptr ? make_tables(panel, windows, moments, true) : Tables{};
  const Evidence evidence{panel,
                          windows,
                          moments,
                          now,
                          split ? of_closed : now,
                          closed_stints(windows),
                          burn.matters.kelvins(),
                          dial_uncertainty_k(burn),
                          burn.scale};
  fill_tables(evidence, report);
  report.together = join(panel, windows, moments, now);
  apply_trust(burn, evidence, report);
  if (at_close != nullptr) keep_words(*at_close, report);
  if (options.needs_stints) fill_needs_stints(evidence, report);
  if (options.as_known_at_s) report.live = live_state(evidence, *options.as_known_at_s, report);
  report.explain = explain(evidence, report);
  return report;
}

}  // namespace pitwright::call
