#pragma once

#include "samples/sample_calls.h"
#include "sheet/sheet_view.h"

namespace pitwright::sheet::test {

/// A sheet of a sample call with two removals by hand: without L1 the heat's move is open, without
/// the last stint nothing can be called.
inline SheetView sample_view(const Telling& telling = {}) {
  auto sample = samples::tray_moved();
  for (auto& probe : sample.burn.probes) {
    probe.readings.seconds = {0.0, 5.0, 10.0, 30.0};
    probe.readings.values = {120.0, 120.5, 121.0, 119.0};
  }
  for (const auto& stint : sample.report.stints)
    sample.burn.stints.push_back({sample.report.settings[static_cast<std::size_t>(stint.setting)],
                                  {},
                                  stint.from_s,
                                  stint.to_s});
  SheetView view;
  view.options.telling = telling;
  view.options.cooker = "pellet cooker with a sliding tray";
  view.scale = Scale::fahrenheit;
  view.burn = burn_to_show(sample.burn, telling);
  view.report = sample.report;
  view.no_lay = "the sample has no map";
  auto without = sample.report;
  without.tilts.front().tilt.changes.front().word = call::Word::not_yet;
  without.spots.erase(without.spots.begin());
  view.removals.push_back(
      {Removal::Kind::spot, sample.report.spots.front().spot, -1, std::move(without)});
  view.removals.push_back({Removal::Kind::stint, "",
                           static_cast<int>(sample.burn.stints.size()) - 1,
                           fail(ErrorKind::bad_input, "nothing is left")});
  return view;
}

}  // namespace pitwright::sheet::test
